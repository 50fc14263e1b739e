package server_test

import (
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
)

// extensions are the endings of goldens by media type.
var extensions = map[string]string{
	"application/json": "json", oneField: "field.json", "text/csv": "csv", "text/plain": "txt",
	"image/svg+xml": "svg", "image/png": "png", "text/calendar": "ics",
}

// Every operation of the contract has a golden in every format it offers. Pages and probes compute
// nothing, and are tested by name.
func TestGoldenOfEveryFormat(t *testing.T) {
	t.Parallel()
	s := newService(t)
	for _, item := range s.doc.Paths.Map() {
		for method, op := range item.Operations() {
			if op.Tags[0] == "service" {
				continue
			}
			for media := range goodAnswer(op).Content {
				t.Run(op.OperationID+"/"+extensions[media], func(t *testing.T) {
					a, plain := s.example(t, method, op, media)
					if got, _, _ := strings.Cut(a.header.Get("Content-Type"), ";"); a.status >= 300 || got != media {
						t.Fatalf("%d %s, want %s\n%.900s", a.status, got, media, a.body)
					}
					compareAs(t, media, filepath.Join("../testdata/golden", op.OperationID+"."+extensions[media]), plain(a.body))
				})
			}
		}
	}
}

// goodAnswer is the successful answer of an operation.
func goodAnswer(op *openapi3.Operation) *openapi3.Response {
	for _, status := range []int{200, 201} {
		if r := op.Responses.Status(status); r != nil {
			return r.Value
		}
	}
	return openapi3.NewResponse()
}

// example asks an operation's question in one format; plain hides what is random.
func (s *service) example(t *testing.T, method string, op *openapi3.Operation, media string) (a answered, plain func(string) string) {
	t.Helper()
	if ask := savedQuestions[op.OperationID]; ask != nil {
		of := savePlan(t)
		return ask(t, of, "Accept", media, "Authorization", "Bearer "+of.key), of.masked
	}
	i := slices.IndexFunc(questions, func(q question) bool { return q.name == op.OperationID && q.method == method })
	if i < 0 {
		t.Fatal("has no question among those with goldens")
	}
	q := questions[i]
	joint := "?"
	if strings.Contains(q.target, "?") {
		joint = "&"
	}
	switch media {
	case oneField:
		only := op.Parameters.GetByInAndName(openapi3.ParameterInQuery, "only").Schema.Value.Enum[0]
		q.target += joint + fmt.Sprintf("only=%v", only)
	case "text/calendar":
		if method == http.MethodPost {
			q.body = strings.Replace(q.body, "{", `{"start": "2026-12-01T09:00:00Z",`, 1)
		} else {
			q.target += joint + "start=2026-12-01T09:00:00Z"
		}
	}
	return s.call(t, q.method, q.target, q.body, "Accept", media), func(body string) string { return body }
}

// compareAs compares what a format says, not how a machine happened to write it.
func compareAs(t *testing.T, media, path, got string) {
	t.Helper()
	kept, err := os.ReadFile(path)
	if err != nil && !*update {
		t.Fatal(err)
	}
	differs := ""
	switch media {
	case "application/json", oneField:
		tree := readable(t, got)
		var want any
		if err := json.Unmarshal(kept, &want); err != nil && !*update {
			t.Fatal(err)
		}
		differs = treeDiffers("", tree, want)
		written, err := json.MarshalIndent(tree, "", "\t")
		if err != nil {
			t.Fatal(err)
		}
		got = string(written) + "\n"
	case "image/png":
		got = thumbnail(t, got)
		differs = pictureDiffers(t, got, string(kept))
	default:
		compare(t, path, got)
		return
	}
	switch {
	case differs == "":
	case *update:
		compare(t, path, got)
	default:
		t.Errorf("%s: %s", path, differs)
	}
}

// readable leaves out of a JSON answer what would hide a change in its diff: the points of curves,
// the versions, and digits beyond the ninth.
func readable(t *testing.T, body string) any {
	t.Helper()
	var tree any
	if err := json.Unmarshal([]byte(body), &tree); err != nil {
		t.Fatal(err)
	}
	return thinned(t, tree)
}

func thinned(t *testing.T, tree any) any {
	switch v := tree.(type) {
	case map[string]any:
		for name, inner := range v {
			switch name {
			case "curve":
				v[name] = fmt.Sprintf("%d points", len(inner.([]any)))
			case "model":
				v[name] = "as of the program"
			default:
				v[name] = thinned(t, inner)
			}
		}
	case []any:
		for i := range v {
			v[i] = thinned(t, v[i])
		}
	case float64:
		x, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 9, 64), 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	return tree
}

// treeDiffers says where two answers differ; numbers must differ by more than a millionth, since
// machines disagree on the last digits.
func treeDiffers(at string, got, want any) string {
	switch g := got.(type) {
	case map[string]any:
		w, ok := want.(map[string]any)
		if !ok || len(g) != len(w) {
			break
		}
		for name := range g {
			if d := treeDiffers(at+"/"+name, g[name], w[name]); d != "" {
				return d
			}
		}
		return ""
	case []any:
		w, ok := want.([]any)
		if !ok || len(g) != len(w) {
			break
		}
		for i := range g {
			if d := treeDiffers(at+"/"+strconv.Itoa(i), g[i], w[i]); d != "" {
				return d
			}
		}
		return ""
	case float64:
		if w, ok := want.(float64); ok && math.Abs(g-w) <= 1e-6*math.Abs(w)+1e-9 {
			return ""
		}
	default:
		if got == want {
			return ""
		}
	}
	return fmt.Sprintf("%s: got %.300v, want %.300v", at, got, want)
}

// shrunk is how many pixels of a picture make one of its golden, each way: a golden shows what is
// drawn where, and a reworded picture adds little to the history.
const shrunk = 4

// thumbnail makes a picture small and grey.
func thumbnail(t *testing.T, picture string) string {
	t.Helper()
	full, err := png.Decode(strings.NewReader(picture))
	if err != nil {
		t.Fatal(err)
	}
	size := full.Bounds().Size()
	if size != image.Pt(1200, 675) {
		t.Errorf("the picture is %v, want 1200 x 675 as chats show it", size)
	}
	small := image.NewGray(image.Rect(0, 0, size.X/shrunk, size.Y/shrunk))
	for y := range small.Rect.Max.Y {
		for x := range small.Rect.Max.X {
			sum := 0
			for i := range shrunk * shrunk {
				sum += int(color.GrayModel.Convert(full.At(x*shrunk+i%shrunk, y*shrunk+i/shrunk)).(color.Gray).Y)
			}
			small.SetGray(x, y, color.Gray{Y: uint8(sum / (shrunk * shrunk))})
		}
	}
	var out strings.Builder
	if err := png.Encode(&out, small); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// pictureDiffers says how two thumbnails differ; one pixel in a thousand may, where a line falls
// between two.
func pictureDiffers(t *testing.T, got, want string) string {
	t.Helper()
	g, err := png.Decode(strings.NewReader(got))
	if err != nil {
		t.Fatal(err)
	}
	w, err := png.Decode(strings.NewReader(want))
	if err != nil {
		return "the golden is no picture: " + err.Error()
	}
	if g.Bounds() != w.Bounds() {
		return fmt.Sprintf("got %v, want %v", g.Bounds(), w.Bounds())
	}
	a, b := g.(*image.Gray).Pix, w.(*image.Gray).Pix
	others := 0
	for i := range a {
		if max(a[i], b[i])-min(a[i], b[i]) > 16 {
			others++
		}
	}
	if others*1000 > len(a) {
		return fmt.Sprintf("%d of %d points differ", others, len(a))
	}
	return ""
}
