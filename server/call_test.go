package server_test

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"

	"saltlock/api"
	"saltlock/server"
	"saltlock/server/store"
)

// service is the whole service on a free port, and the contract that its answers must fit.
type service struct {
	*httptest.Server
	contractOf
	db *store.DB
}

func newService(t testing.TB) *service {
	t.Helper()
	return newServiceWith(t, server.Options{})
}

// newServiceWith is newService with settings and its own store.
func newServiceWith(t testing.TB, o server.Options) *service {
	t.Helper()
	content, err := newFile()
	if err != nil {
		t.Fatal(err)
	}
	return serviceOnCopy(t, content, o)
}

// serviceOnCopy is the service on a database file of its own with some content.
func serviceOnCopy(t testing.TB, content []byte, o server.Options) *service {
	t.Helper()
	path := filepath.Join(t.TempDir(), "test.db")
	if err := os.WriteFile(path, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return serviceOn(t, path, o)
}

// newFile is a database file as the first start of a service leaves it. Most tests begin with one;
// writing the species table each time took longer than the tests.
var newFile = sync.OnceValues(func() (body []byte, err error) {
	dir, err := os.MkdirTemp("", "saltlock")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	path := filepath.Join(dir, "new.db")
	db, err := store.Open(context.Background(), path)
	if err != nil {
		return nil, err
	}
	if err := db.Close(); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// loaded is the contract, and where its paths lead.
var loaded = sync.OnceValues(func() (*contractOf, error) {
	for _, media := range []string{"text/html", "application/yaml", "text/csv"} {
		openapi3filter.RegisterBodyDecoder(media, openapi3filter.FileBodyDecoder)
	}
	doc, err := openapi3.NewLoader().LoadFromData(api.Spec)
	if err != nil {
		return nil, err
	}
	doc.Servers = nil // each test has a service on a port of its own
	router, err := legacy.NewRouter(doc)
	return &contractOf{doc, router}, err
})

// contractRead is the contract as a service without an address of its own reads it. Services only
// read it, and reading it for each was a third of the CPU time of those that save a plan.
var contractRead = sync.OnceValues(func() (*server.Contract, error) { return server.ReadContract("") })

// contractOf is read by every test, so none may change it.
type contractOf struct {
	doc    *openapi3.T
	router routers.Router
}

// serviceOn is the service on a database file.
func serviceOn(t testing.TB, path string, o server.Options) *service {
	t.Helper()
	db, err := store.Open(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return serviceFrom(t, db, o)
}

// planTime is what a plan may take in tests: more than a user waits, for a machine that
// tests many things at once, or with the race detector. userTime is what a user waits.
const (
	planTime = time.Minute
	userTime = 2 * time.Second
)

// serviceFrom is the service on an open database.
func serviceFrom(t testing.TB, db *store.DB, o server.Options) *service {
	t.Helper()
	o.Store, o.PlanTime = db, cmp.Or(o.PlanTime, planTime)
	if o.Contract == nil && o.PublicURL == "" {
		c, err := contractRead()
		if err != nil {
			t.Fatal(err)
		}
		o.Contract = c
	}
	h, err := server.New(o)
	if err != nil {
		t.Fatal(err)
	}
	s := &service{Server: httptest.NewServer(h), db: db}
	t.Cleanup(s.Close)
	c, err := loaded()
	if err != nil {
		t.Fatal(err)
	}
	s.contractOf = *c
	return s
}

// answered is one answer, its body read.
type answered struct {
	status int
	header http.Header
	body   string
}

// field digs a value out of a JSON answer: "salt.value", "errors.0.rule".
func (a answered) field(t testing.TB, path string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(a.body), &v); err != nil {
		t.Fatalf("no JSON: %v\n%s", err, a.body)
	}
	for key := range strings.SplitSeq(path, ".") {
		if list, ok := v.([]any); ok {
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(list) {
				t.Fatalf("no %s in %s", path, a.body)
			}
			v = list[i]
			continue
		}
		m, ok := v.(map[string]any)
		if !ok {
			t.Fatalf("no %s in %s", path, a.body)
		}
		v = m[key]
	}
	return v
}

func (a answered) number(t *testing.T, path string) float64 {
	t.Helper()
	x, ok := a.field(t, path).(float64)
	if !ok {
		t.Fatalf("%s is no number in %s", path, a.body)
	}
	return x
}

// get asks by URL. Headers come in pairs.
func (s *service) get(t testing.TB, target string, header ...string) answered {
	t.Helper()
	return s.call(t, http.MethodGet, target, "", header...)
}

// call sends a request and checks the answer against the contract.
func (s *service) call(t testing.TB, method, target, body string, header ...string) answered {
	t.Helper()
	r, a := s.sends(t, method, target, body, header...)
	s.holdToContract(t, r, a)
	return a
}

// sends sends a request and reads the answer.
func (s *service) sends(t testing.TB, method, target, body string, header ...string) (*http.Request, answered) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, s.URL+target, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
		if header[i] == "Host" {
			r.Host = header[i+1]
		}
	}
	response, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	read, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r, answered{response.StatusCode, response.Header, string(read)}
}

// holdToContract validates an answer against openapi.yaml, units included.
func (s *service) holdToContract(t testing.TB, r *http.Request, a answered) {
	t.Helper()
	if a.status >= http.StatusInternalServerError {
		t.Errorf("%s %s: status %d\n%s", r.Method, r.URL, a.status, a.body)
	}
	asked := r.Clone(r.Context())
	asked.URL.Path = strings.TrimSuffix(strings.TrimSuffix(asked.URL.Path, ".csv"), ".json")
	var p problem
	if a.status >= http.StatusBadRequest && json.Unmarshal([]byte(a.body), &p) == nil {
		for _, fault := range p.Errors {
			if fault.Where == "" || fault.Reason == "" {
				t.Errorf("%s %s: a fault without its place\n%s", r.Method, r.URL, a.body)
			}
		}
	}
	route, path, err := s.router.FindRoute(asked)
	if err != nil || r.Method == http.MethodHead || a.status == http.StatusNotModified {
		return // what the contract has no route for, or no body to hold to it
	}
	err = openapi3filter.ValidateResponse(r.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: asked, PathParams: path, Route: route},
		Status:                 a.status, Header: a.header, Body: io.NopCloser(bytes.NewBufferString(a.body)),
		Options: &openapi3filter.Options{MultiError: true, IncludeResponseStatus: true},
	})
	if err != nil {
		t.Errorf("%s %s breaks the contract: %v\n%s", r.Method, r.URL, err, a.body)
	}
	if answer := route.Operation.Responses.Status(a.status); answer != nil && a.status < 300 && strings.HasPrefix(a.header.Get("Content-Type"), "application/json") {
		schema := answer.Value.Content["application/json"].Schema
		var v any
		if schema != nil && json.Unmarshal([]byte(a.body), &v) == nil {
			holdUnits(t, r.URL.Path, schema.Value, v)
		}
	}
}

// holdUnits checks that each quantity has the unit the contract names.
func holdUnits(t testing.TB, at string, s *openapi3.Schema, v any) {
	t.Helper()
	for _, part := range s.AllOf { // a description around a reference
		holdUnits(t, at, part.Value, v)
	}
	switch v := v.(type) {
	case map[string]any:
		if want, ok := s.Extensions["x-unit"].(string); ok && v["unit"] != want {
			t.Errorf("%s is in %v, the contract says %s", at, v["unit"], want)
		}
		for name, p := range s.Properties {
			if inner, ok := v[name]; ok {
				holdUnits(t, at+"/"+name, p.Value, inner)
			}
		}
	case []any:
		for _, item := range v {
			if s.Items != nil {
				holdUnits(t, at, s.Items.Value, item)
			}
		}
	}
}
