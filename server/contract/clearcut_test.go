package contract

import (
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"saltlock/api"
)

var requests = flag.Int("requests", 5000, "random requests that clearcut and the validator must agree on")

// The validator accepts whatever clearcut recognises, over random requests to every operation; the
// rest the validator judges itself, so no refusal can change. Most valid requests are recognised.
func TestClearcutAgainstValidator(t *testing.T) {
	c, err := Load(api.Spec)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(1, 9))
	var planned []string
	for key, op := range c.Operations {
		if op.clear != nil && len(op.Parameters) > 0 { // an operation without parameters has no faults
			planned = append(planned, key)
		}
	}
	slices.Sort(planned)
	right, recognised, wrong := 0, 0, 0
	for range *requests {
		key := planned[random.IntN(len(planned))]
		op := c.Operations[key]
		ctx, q := randomRequest(random, op, key)
		ours := op.clear.recognises(ctx, maps.Clone(q))
		judged := *op
		judged.clear = nil
		err := c.check(ctx, &Request{Operation: &judged, Query: q})
		switch {
		case ours && err != nil:
			t.Fatalf("%s %s is recognised, and refused by the validator: %v", key, ctx.Request().URL, err)
		case err != nil:
			wrong++
		default:
			right++
		}
		if ours {
			recognised++
		}
	}
	t.Logf("%d right, of which %d were recognised, %d wrong", right, recognised, wrong)
	if recognised < right*4/5 || wrong < *requests/5 || right < *requests/5 {
		t.Errorf("of %d right requests %d were recognised; %d were wrong", right, recognised, wrong)
	}
}

// randomRequest asks an operation for something, valid or wrong in one or more places.
func randomRequest(random *rand.Rand, op *Operation, key string) (echo.Context, url.Values) {
	q := url.Values{}
	var names, values []string
	for _, p := range op.Parameters {
		p := p.Value
		v := randomValue(random, p.Schema.Value, p.Example)
		switch {
		case p.In == openapi3.ParameterInPath:
			names, values = append(names, p.Name), append(values, v)
		case p.In == openapi3.ParameterInQuery && (p.Required && random.IntN(30) > 0 || random.IntN(6) == 0):
			q.Set(p.Name, v)
		}
	}
	switch random.IntN(25) {
	case 0:
		q.Set("unheard_of", "1")
	case 1:
		for name := range q {
			q.Add(name, q.Get(name))
			break
		}
	}
	_, path, _ := strings.Cut(key, " ")
	r := httptest.NewRequest(http.MethodGet, "/?"+q.Encode(), nil)
	ctx := echo.New().NewContext(r, httptest.NewRecorder())
	ctx.SetPath(path)
	ctx.SetParamNames(names...)
	ctx.SetParamValues(values...)
	return ctx, q
}

// randomValue is a value that fits the schema, now and then spoilt.
func randomValue(random *rand.Rand, s *openapi3.Schema, example any) string {
	v := "x"
	switch {
	case len(s.Enum) > 0:
		v = fmt.Sprint(s.Enum[random.IntN(len(s.Enum))])
	case s.Type.Is("boolean"):
		v = []string{"true", "false"}[random.IntN(2)]
	case s.Type.Is("integer"):
		v = fmt.Sprint(random.IntN(60))
	case s.Type.Is("number"):
		v = fmt.Sprintf("%.3g", 1.5*random.Float64())
	default:
		if list, ok := example.([]any); ok {
			example = list[0]
		} else if example == nil {
			example = s.Example
		}
		if example != nil {
			v = fmt.Sprint(example)
		}
	}
	if random.IntN(12) > 0 {
		return v
	}
	at := random.IntN(len(v) + 1)
	return []string{
		"", " ", "-1", "1e3", "NaN", "0x1p4", "007", "1.", ".5", "4.0", "TRUE", "nonsense", v[:at],
		v[:at] + string(rune(random.IntN(0x11000))) + v[at:], v + " ", v + v, strings.Repeat(v, 60), v[:at] + "\xff" + v[at:], "25 °C", "1.010(1) SG 60F/60F",
	}[random.IntN(20)]
}
