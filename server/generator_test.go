package server_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/routers"
)

// weights are how often an operation is tried compared with the others; 1 if not listed. Plans
// take a hundred times as long as conversions.
var weights = map[string]int{
	"getConversion": 10, "convertReadings": 6, "getCalibration": 6, "getSaltMix": 6, "getBlend": 6, "getWaterChange": 6, "getTopOff": 6,
	"getVesselVolume": 8, "listSpecies": 4, "getSpecies": 4, "getCompatibility": 4, "getSpeciesGrowth": 4, "getTransferPlan": 4, "planTransfer": 4,
}

// generator makes requests from the contract.
type generator struct {
	routes []*routers.Route // repeated by weight
	saved  []savedKey       // transfers that are kept; the first are never deleted
}

type savedKey struct{ id, key string }

// lasting is the number of saved transfers that no request deletes.
const lasting = 5

func newGenerator(t *testing.T, s *service) *generator {
	t.Helper()
	g := &generator{}
	for _, path := range s.doc.Paths.InMatchingOrder() {
		item := s.doc.Paths.Value(path)
		for method, op := range item.Operations() {
			for range max(1, weights[op.OperationID]) {
				g.routes = append(g.routes, &routers.Route{Spec: s.doc, Path: path, PathItem: item, Method: method, Operation: op})
			}
		}
	}
	slices.SortFunc(g.routes, func(a, b *routers.Route) int { return strings.Compare(a.Method+a.Path, b.Method+b.Path) })
	for range 4 * lasting {
		a := s.call(t, http.MethodPost, "/v1/transfers", planBody)
		g.saved = append(g.saved, savedKey{fmt.Sprint(a.field(t, "id")), fmt.Sprint(a.field(t, "key"))})
	}
	return g
}

// made is one request and how it came about.
type made struct {
	*rand.Rand
	g      *generator
	route  *routers.Route
	path   map[string]string
	query  []string
	header http.Header
	body   string
	saved  savedKey
	usual  bool // near what people ask
	only   bool // the answer is one field
}

func (g *generator) request(number uint64) *made {
	m := &made{Rand: rand.New(rand.NewPCG(7, number)), g: g, path: map[string]string{}, header: http.Header{}}
	m.route = g.routes[m.IntN(len(g.routes))]
	m.saved = pick(m, g.saved[:lasting]...)
	if m.route.Method == http.MethodDelete {
		m.saved = pick(m, g.saved[lasting:]...)
	}
	if m.route.Operation.Security != nil && !m.one(5) {
		m.header.Set("Authorization", "Bearer "+pick(m, m.saved.key, m.saved.key, m.saved.key, "wrong"))
	}
	m.usual = m.one(2)
	if m.usual && m.route.Operation.OperationID == "getTransferPlan" {
		m.query = append(m.query, planQuery[strings.Index(planQuery, "?")+1:])
	}
	for _, p := range m.route.Operation.Parameters {
		m.parameter(p.Value)
	}
	if m.one(30) {
		m.query = append(m.query, pick(m, "unknown=1", "_=7", strings.Repeat("x", 3000)+"=1", "%=1", "a;b", "=", "format=csv&format=json", "%ff=%ff", "units"))
	}
	if m.one(60) && len(m.query) > 0 {
		m.query = append(m.query, m.query[m.IntN(len(m.query))])
	}
	if m.one(3) {
		m.header.Set("Accept", pick(m, "*/*", "text/csv", "text/plain", "application/json", "image/png", "image/svg+xml;q=0.5, text/csv", "application/pdf", oneField, "text/html", ";;", "text/*;q=0"))
	}
	if m.one(20) {
		m.header.Set("If-None-Match", pick(m, "*", `"x"`, `W/"y", "z"`, ","))
	}
	if m.route.Operation.RequestBody != nil {
		m.content()
	}
	return m
}

// one is true once in n times.
func (m *made) one(n int) bool { return m.IntN(n) == 0 }

func pick[T any](m *made, from ...T) T { return from[m.IntN(len(from))] }

// parameter gives a parameter of path, query or header, or leaves it out.
func (m *made) parameter(p *openapi3.Parameter) {
	chance := 6 // an optional one once in so many
	if len(m.route.Operation.Parameters) > 40 {
		chance = 25
	}
	if m.usual {
		chance *= 3
	}
	if p.Required && m.one(40) || !p.Required && !m.one(chance) {
		return
	}
	s := p.Schema.Value
	if p.Name == "only" {
		if m.one(2) {
			return
		}
		m.only = true
	}
	n := 1
	if s.Type.Is("array") {
		s, n = s.Items.Value, 1+m.IntN(4)
	}
	for range n {
		v := m.text(p.Name, s, p.Example)
		switch p.In {
		case openapi3.ParameterInPath:
			m.path[p.Name] = v
		case openapi3.ParameterInHeader:
			m.header.Set(p.Name, strings.Map(func(r rune) rune {
				if r < ' ' || r > '~' {
					return -1
				}
				return r
			}, v))
		default:
			m.query = append(m.query, p.Name+"="+url.QueryEscape(v))
		}
	}
}

// samples are values of each format, usual and odd ones.
var samples = map[string][]string{
	"reading": {"1.010 SG", "35 ppt", "2ppt", "21.5 mS/cm", "10 g/kg", "10 g/L", "1.3390 nD", "1.010(1) SG", "1.010 SG 60F/60F", "0 ppt", "500 ppt", "10"},
	"volume":  {"450 L", "20L", "6 L", "120 gal", "0.001 L", "1e9 L", "0 L", "-1 L", "5 m3"}, "temperature": {"25 C", "77 F", "26C", "0 C", "40.1 C", "-300 C", "298 K"},
	"mass": {"1 g", "20 kg", "0 g", "1 lb"}, "length": {"30 cm", "1.5m", "3mm", "12 in", "0 cm", "-5 cm"}, "area": {"7500 cm2", "0 cm2"},
	"fraction": {"5 %", "0.5", "15%", "101 %"}, "ph": {"7.2", "8.2 pH", "15"}, "alkalinity": {"8 dKH", "2 meq/L"}, "ammonia": {"0.1 mg/L N", "1 mg/L"},
	"time-span": {"30d", "12 h", "90 min", "0 h", "1e6 d"}, "drip-rate": {"2 drops/s", "0.01 drops/s", "20 mL/min"}, "density": {"2600 kg/m3", "2.6 g/mL"},
	"salinity-rate": {"2 g/kg/h", "0 g/kg/h"}, "salinity-difference": {"5 g/kg", "20 g/kg", "0 g/kg"}, "temperature-rate": {"1 K/h", "2 C/h"},
	"dissolved-oxygen": {"5 mg/L", "0 mg/L"}, "convention": {"25C/25C", "60F/60F", "20C/4C"}, "compensation": {"none", "nlf", "1.9 %/C"},
	"correction": {"-0.0012(5) SG", "1.02(1)", "-1 ppt"}, "portion": {"10 L, 0.2 ppt, 24 C", "35 ppt, 26 C", "10 L, 35 ppt, 15 C, 8 dKH, 8.2 pH", "L"},
	"clock": {"22:00", "07:30", "24:61"}, "time-zone": {"Europe/Berlin", "UTC", "Mars/Base"},
	"date-time": {"2026-12-01T09:00:00Z", "2026-12-31T23:59:60Z", "9999-12-31T23:59:59-23:00", "2199-12-31T23:59:59Z", "1970-01-01T00:00:00Z", "0000-01-01T00:00:00Z", "2026-12-01"},
}

// named are values of texts without a format.
var named = map[string][]string{
	"species": {"scatophagus-argus", "monodactylus-argenteus:juvenile:4", "carassius-auratus", "scatophagus-argos"}, "keeps_with": {"scatophagus-argus:juvenile"},
	"q": {"scat", "what salinity for a figure 8 puffer", "%", "'; --"}, "stage": {"adult", "juvenile", "elder"}, "type": {"invalid-request", "none"},
}

// text is a value as a query, a path and a header hold it.
func (m *made) text(name string, s *openapi3.Schema, example any) string {
	if m.one(40) {
		return pick(m, "", " ", "NaN", "-1", "1e999", "4.0", "1e0", "0x10", "1_0", "\xff\xfe", "ä", strings.Repeat("9", 300), strings.Repeat("g", 70000), "1,5", "null", "../..", "a\x00b")
	}
	switch v := m.value(name, s, example, 0).(type) {
	case string:
		return v
	default:
		return fmt.Sprint(v)
	}
}

// value is a value that the schema may allow.
func (m *made) value(name string, s *openapi3.Schema, example any, depth int) any {
	for s.Type == nil && len(s.AllOf) == 1 {
		s = s.AllOf[0].Value
	}
	switch {
	case name == "id" && strings.HasPrefix(m.route.Path, "/v1/transfers"):
		return pick(m, m.saved.id, m.saved.id, m.saved.id, "unknown-unknown-unknown")
	case name == "id":
		return pick(m, "scatophagus-argus", "monodactylus-argenteus", "nothing")
	case len(s.Enum) > 0:
		return s.Enum[m.IntN(len(s.Enum))]
	case samples[s.Format] != nil:
		usual := samples[s.Format]
		if m.usual || !m.one(4) { // the usual come first
			usual = usual[:(len(usual)+1)/2]
		}
		return pick(m, usual...)
	case s.Type.Is("string") && named[name] != nil:
		return pick(m, named[name]...)
	case s.Type.Is("boolean"):
		return m.one(2)
	case s.Type.Is("integer"):
		return pick[any](m, 1, 2, 3, 4, json.RawMessage("4.0"), json.RawMessage("1e0"), 0, -1, 1<<40, 1.5)
	case s.Type.Is("number"):
		return pick[any](m, 0.5, 0.64, 1, 0, -3.5, 1e6, json.RawMessage("1e308"))
	case s.Type.Is("array"):
		list := make([]any, 1+m.IntN(3))
		for i := range list {
			list[i] = m.value(name, s.Items.Value, nil, depth+1)
		}
		return list
	case s.Type.Is("object"):
		return m.object(s, depth)
	case example != nil:
		return fmt.Sprint(example)
	}
	return pick(m, "a", "note", strings.Repeat("n", 900))
}

// object gives an object most of what it requires and some of what it allows.
func (m *made) object(s *openapi3.Schema, depth int) any {
	o := map[string]any{}
	for _, name := range slices.Sorted(func(yield func(string) bool) {
		for name := range s.Properties {
			if !yield(name) {
				return
			}
		}
	}) {
		if slices.Contains(s.Required, name) && !m.one(60) || m.one(4) {
			o[name] = m.value(name, s.Properties[name].Value, nil, depth+1)
		}
	}
	switch {
	case m.one(60):
		o[pick(m, "unknown", strings.Repeat("x", 2000), "")] = 1
	case m.one(60):
		o["reading"] = pick[any](m, nil, 5, []any{}, strings.Repeat("9", 5000))
	}
	return o
}

// content gives the request a body.
func (m *made) content() {
	content := m.route.Operation.RequestBody.Value.Content
	m.header.Set("Content-Type", pick(m, "application/json", "application/json", "application/json", "application/json; charset=utf-8", "Application/JSON"))
	if m.one(15) {
		m.header.Set("Content-Type", pick(m, "", "text/plain", "application/xml", "application/json; charset", "text/csv;;", "*/*"))
	}
	if m.one(40) {
		m.header.Set("Content-Encoding", pick(m, "gzip", "identity", "br"))
	}
	value := m.value("", content["application/json"].Schema.Value, nil, 0)
	if o, ok := value.(map[string]any); ok && m.usual && m.route.Path != "/v1/transfers/{id}" && !strings.HasSuffix(m.route.Path, "readings") {
		if err := json.Unmarshal([]byte(planBody), &o); err != nil { // over what was made, of which little is left
			panic(err)
		}
	}
	body, err := json.Marshal(value)
	if err != nil {
		panic(err) // what is made can be written
	}
	m.body = string(body)
	if content["text/csv"] != nil && m.one(3) {
		m.header.Set("Content-Type", pick(m, "text/csv", "Text/CSV", "text/csv; charset=utf-8"))
		m.body = pick(m, "reading,temperature\r\n", "reading [ppt];=note\n", "\ufeffreading\n", "temperature\n", "", "reading,reading\n")
		for range m.IntN(6) {
			m.body += pick(m, "35 ppt,25 C\r\n", "35;=1+1\n", "\"torn\n", "1.010 SG,25\n", ",,,,\n", "\xff,\n", strings.Repeat("9", 5000)+"\n")
		}
	}
	if m.one(25) {
		m.body = pick(m, "", "{", "null", "[]", "[[]]", "5", m.body+"x", m.body+m.body, "\xff", strings.Repeat("[", 20000), `{"from":1,"from":2}`, `[{"reading":"35 ppt","reading":"1 ppt"}]`, `[1e999]`, `{"a":1e999}`, strings.Repeat(" ", 70000)+"{}")
	}
}

func (m *made) url() *url.URL {
	path := m.route.Path
	for name, v := range m.path {
		path = strings.ReplaceAll(path, "{"+name+"}", strings.ReplaceAll(v, "/", "_"))
	}
	return &url.URL{Scheme: "http", Host: "127.0.0.1", Path: path, RawQuery: strings.Join(m.query, "&")}
}

func (m *made) String() string {
	return fmt.Sprintf("%s %.700s %v\n%.700s", m.route.Method, m.url(), m.header, m.body)
}
