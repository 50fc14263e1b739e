package server_test

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/modelcontextprotocol/go-sdk/mcp"

	"saltlock/server"
)

// withKey sends a key with every request, as the settings of a bot would.
type withKey string

func (k withKey) RoundTrip(r *http.Request) (*http.Response, error) {
	r = r.Clone(r.Context())
	if k != "" {
		r.Header.Set("Authorization", "Bearer "+string(k))
	}
	return http.DefaultTransport.RoundTrip(r)
}

// speak connects a client of the protocol's own library.
func (s *service) speak(t *testing.T, key string) *mcp.ClientSession {
	t.Helper()
	client := mcp.NewClient(&mcp.Implementation{Name: "test", Version: "1"}, nil)
	session, err := client.Connect(t.Context(), &mcp.StreamableClientTransport{Endpoint: s.URL + "/mcp", HTTPClient: &http.Client{Transport: withKey(key)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = session.Close() })
	return session
}

// use calls a tool, and returns its text and whether that is a refusal.
func use(t *testing.T, session *mcp.ClientSession, name string, arguments map[string]any) (text string, refused bool) {
	t.Helper()
	result, err := session.CallTool(t.Context(), &mcp.CallToolParams{Name: name, Arguments: arguments})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, c := range result.Content {
		text += c.(*mcp.TextContent).Text
	}
	return text, result.IsError
}

func TestBots(t *testing.T) {
	said := new(lockedBuffer)
	s := newServiceWith(t, server.Options{Log: slog.New(slog.NewTextHandler(said, nil))})
	ago := func(d time.Duration) string { return time.Now().Add(-d).UTC().Format(time.RFC3339) }
	status, _, answer := s.send(t, "/v1/transfers", "application/json", strings.NewReader(`{`+twoWaters+`,"animals":[{"sensitivity":"hardy"}],"start":"`+ago(time.Hour)+`"}`))
	var saved struct{ ID, Key string }
	if err := json.Unmarshal([]byte(answer), &saved); err != nil || status != http.StatusCreated {
		t.Fatalf("nothing saved: %d %v\n%s", status, err, answer)
	}
	session := s.speak(t, "")
	list, err := session.ListTools(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, tool := range list.Tools {
		listed[tool.Name] = true
		if text, err := json.Marshal(tool.InputSchema); err != nil || bytes.Contains(text, []byte(`"key"`)) || tool.Description == "" {
			t.Errorf("%s: input %s (%v), described %q", tool.Name, text, err, tool.Description)
		}
	}
	for _, name := range []string{"convert_reading", "make_salt_water", "find_species", "plan_move", "what_to_do_now", "log_reading", "report_trouble"} {
		if !listed[name] {
			t.Errorf("no tool %s", name)
		}
	}
	scats := map[string]any{
		"from_salinity": "2 ppt", "from_temperature": "26 C", "to_salinity": "10 ppt", "to_temperature": "26 C",
		"species": "scatophagus-argus", "stage": "juvenile", "count": 4, "mass": "2 g",
		"container_capacity": "60 L", "container_start_volume": "15 L", "container_aerated": true, "container_heated": true,
	}
	if text, refused := use(t, session, "plan_move", scats); refused || !strings.Contains(text, "ppt") {
		t.Errorf("no plan (%v):\n%s", refused, text)
	}
	if text, refused := use(t, session, "convert_reading", map[string]any{"reading": "1.026 SG", "temperature": "25 C"}); refused || !strings.Contains(text, "ppt") {
		t.Errorf("no conversion (%v):\n%s", refused, text)
	}
	if text, refused := use(t, session, "convert_reading", map[string]any{"reading": "1.026 furlongs"}); !refused {
		t.Errorf("a reading in furlongs is taken:\n%s", text)
	}
	reading := map[string]any{"id": saved.ID, "time": ago(30 * time.Minute), "salinity": "2 ppt", "temperature": "26 C"}
	if text, refused := use(t, session, "log_reading", reading); !refused {
		t.Errorf("logged without a key:\n%s", text)
	}
	text, refused := use(t, s.speak(t, saved.Key), "log_reading", reading)
	if refused {
		t.Errorf("not logged with the key:\n%s", text)
	}
	if text, refused := use(t, session, "what_to_do_now", map[string]any{"id": saved.ID}); refused || strings.Count(text, "\n") != 2 {
		t.Errorf("what to do now (%v):\n%s", refused, text)
	}
	trouble := map[string]any{"id": saved.ID, "event": "animals_look_wrong", "behaviour": "gasping"}
	if text, refused := use(t, session, "report_trouble", trouble); !refused {
		t.Errorf("reported without a key:\n%s", text)
	}
	if text, refused := use(t, s.speak(t, saved.Key), "report_trouble", trouble); refused || !strings.Contains(text, "You saw a sign of distress (gasping)") {
		t.Errorf("animals that gasp (%v):\n%s", refused, text)
	}
	if strings.Contains(text, saved.Key) || strings.Contains(said.String(), saved.Key) {
		t.Error("the key stands in the answer or in the log")
	}
}

// The door keeps out requests that a browser sends from another site or under a foreign name, and
// requests that are too long; it refuses in JSON-RPC.
func TestBotsDoor(t *testing.T) {
	s := newServiceWith(t, server.Options{PublicURL: "https://club.example"})
	const hello = `{"jsonrpc":"2.0","id":1,"method":"tools/list"}`
	port := s.URL[strings.LastIndexByte(s.URL, ':'):]
	for _, c := range []struct {
		name, host, origin, body string
		status                   int
		says                     string
	}{
		{"no browser", "", "", hello, http.StatusOK, `"tools"`},
		{"a page of this service", "", "https://club.example", hello, http.StatusOK, `"tools"`},
		{"a page of another site", "", "https://elsewhere.example", hello, http.StatusForbidden, `"code":-32600`},
		{"the public name", "club.example", "", hello, http.StatusOK, `"tools"`},
		{"this machine", "localhost" + port, "", hello, http.StatusOK, `"tools"`},
		{"a foreign name of this machine", "evil.example" + port, "http://evil.example" + port, hello, http.StatusForbidden, `"id":1`},
		{"a long message", "", "", `{"jsonrpc":"2.0","id":1,"method":"` + strings.Repeat("x", 100_000) + `"}`, http.StatusRequestEntityTooLarge, `"code":-32600`},
		{"no message", "", "", `{`, http.StatusBadRequest, `"code":-32700`},
		{"a byte order mark", "", "", "\ufeff" + hello, http.StatusBadRequest, `"code":-32700`},
		{"no such method", "", "", `{"jsonrpc":"2.0","id":"a","method":"nope"}`, http.StatusOK, `{"error":{"code":-32601,"message":"this server has no such method"},"id":"a","jsonrpc":"2.0"}`},
		{"no id", "", "", `{"jsonrpc":"2.0","id":null,"method":"tools/list"}`, http.StatusBadRequest, `"code":-32600`},
		{"an id that is none", "", "", `{"jsonrpc":"2.0","id":{},"method":"tools/list"}`, http.StatusBadRequest, `"id":null`},
		{"arguments without names", "", "", `{"jsonrpc":"2.0","id":1,"method":"tools/call","params":{"name":"convert_reading","arguments":[1]}}`, http.StatusOK, `"code":-32602`},
		{"params without names", "", "", `{"jsonrpc":"2.0","id":1,"method":"tools/call","params":[]}`, http.StatusOK, `"code":-32602`},
		{"a path without its id", "", "", `{"jsonrpc":"2.0","id":1,"method":"tools/call","params":{"name":"read_transfer","arguments":{}}}`, http.StatusOK, `read_transfer needs id`},
		{"a version that is none", "", "", `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"protocolVersion":5}}`, http.StatusOK, `"code":-32602`},
	} {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/mcp", strings.NewReader(c.body))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Accept", "application/json, text/event-stream")
		if c.origin != "" {
			r.Header.Set("Origin", c.origin)
		}
		r.Host = c.host
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != c.status || !bytes.Contains(body, []byte(c.says)) || answer.Header.Get("Content-Type") != "application/json" {
			t.Errorf("%s: %d %s, want %d; %v\n%.300s\nwant %s", c.name, answer.StatusCode, answer.Header.Get("Content-Type"), c.status, err, body, c.says)
		}
		if bytes.Contains(body, []byte("Go ")) || bytes.Contains(body, []byte("mcp.")) {
			t.Errorf("%s speaks of its code: %s", c.name, body)
		}
	}
}
