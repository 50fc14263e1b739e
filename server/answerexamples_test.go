package server_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"go.yaml.in/yaml/v3"
)

// Every operation has an example of its answer in each text format it offers, and of what it
// takes; each example fits its schema.
func TestContractExamples(t *testing.T) {
	s := newService(t)
	if *update {
		rewriteExamples(t, s)
		return
	}
	for path, item := range s.doc.Paths.Map() {
		for _, op := range item.Operations() {
			if op.RequestBody != nil {
				for media, content := range op.RequestBody.Value.Content {
					holdExamples(t, op.OperationID+" takes "+media, media, content)
				}
			}
			for _, ref := range op.Parameters {
				p := ref.Value
				if p.Required && p.Example == nil {
					t.Errorf("%s has no example of %s", op.OperationID, p.Name)
				}
			}
			for media, content := range goodAnswer(op).Content {
				if shown(path, media) {
					holdExamples(t, op.OperationID+" answers "+media, media, content)
				}
			}
		}
	}
	for media, content := range s.doc.Components.Responses["Problem"].Value.Content {
		holdExamples(t, "a problem as "+media, media, content)
	}
}

// shown reports whether an example of a format is useful: pages and pictures must be seen, and the
// contract is no example of itself.
func shown(path, media string) bool {
	return media != "text/html" && !strings.HasPrefix(media, "image/") && media != "text/calendar" && !strings.HasPrefix(path, "/openapi")
}

// holdExamples requires an example of a body, and checks each against its schema.
func holdExamples(t *testing.T, what, media string, content *openapi3.MediaType) {
	t.Helper()
	var all []any
	if content.Example != nil {
		all = append(all, content.Example)
	}
	for _, e := range content.Examples {
		all = append(all, e.Value.Value)
	}
	if len(all) == 0 {
		t.Errorf("%s: no example", what)
	}
	for _, e := range all {
		if err := content.Schema.Value.VisitJSON(e, openapi3.MultiErrors()); err != nil {
			t.Errorf("%s: the example breaks the schema: %v", what, err)
		}
		if text, ok := e.(string); !ok && !strings.Contains(media, "json") || ok && strings.TrimSpace(text) == "" {
			t.Errorf("%s: the example is %v", what, e)
		}
	}
}

// examplesHead begins the last part of the contract, which rewriteExamples writes.
const examplesHead = "  examples: # by go test ./server -run TestContractExamples -update, from what is answered\n"

// rewriteExamples writes the examples that the contract names, OPERATION.EXTENSION: shortened
// answers of the service to the questions of the goldens.
func rewriteExamples(t *testing.T, s *service) {
	const contract = "../openapi.yaml"
	text, err := os.ReadFile(contract)
	if err != nil {
		t.Fatal(err)
	}
	before, _, found := bytes.Cut(text, []byte(examplesHead))
	if !found {
		t.Fatalf("%s has no %q", contract, examplesHead)
	}
	written := map[string]*yaml.Node{}
	for _, item := range s.doc.Paths.Map() {
		for method, op := range item.Operations() {
			for media, content := range goodAnswer(op).Content {
				name := op.OperationID + "." + extensions[media]
				if bytes.Contains(before, []byte("examples/"+name+"'")) {
					a, plain := s.example(t, method, op, media)
					written[name] = exampleOf(t, media, content.Schema.Value, plain(a.body))
				}
			}
		}
	}
	all := &yaml.Node{Kind: yaml.MappingNode}
	for _, name := range slices.Sorted(maps.Keys(written)) {
		all.Content = append(all.Content, scalar(name), &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{scalar("value"), written[name]}})
	}
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := e.Encode(map[string]any{"components": map[string]any{"examples": all}}); err != nil {
		t.Fatal(err)
	}
	_, indented, _ := bytes.Cut(out.Bytes(), []byte("examples:\n"))
	if err := os.WriteFile(contract, slices.Concat(before, []byte(examplesHead), indented), 0o644); err != nil {
		t.Fatal(err)
	}
}

func scalar(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text}
}

// firstLines is as much of a text or table as an example needs.
func firstLines(text string) string {
	lines := strings.SplitAfter(text, "\n")
	return strings.Join(lines[:min(len(lines), 3)], "")
}

// exampleOf is an answer with one item of each list and, deep inside, only the required fields.
func exampleOf(t *testing.T, media string, s *openapi3.Schema, answer string) *yaml.Node {
	t.Helper()
	if !strings.Contains(media, "json") {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: firstLines(answer)}
	}
	var v any
	if err := json.Unmarshal([]byte(answer), &v); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(shorten(s, v, 0))
	if err != nil {
		t.Fatal(err)
	}
	var node yaml.Node
	if err := yaml.Unmarshal(text, &node); err != nil {
		t.Fatal(err)
	}
	flowInside(node.Content[0])
	return node.Content[0]
}

func shorten(s *openapi3.Schema, v any, depth int) any {
	for _, part := range s.AllOf { // a description around a reference
		s = part.Value
	}
	switch v := v.(type) {
	case map[string]any:
		for name, inner := range v {
			p := s.Properties[name]
			switch {
			case p == nil: // free, as the inputs are
			case depth > 0 && len(s.Required) > 0 && !slices.Contains(s.Required, name):
				delete(v, name)
			default:
				v[name] = shorten(p.Value, inner, depth+1)
			}
		}
	case []any:
		for i := range v {
			v[i] = shorten(s.Items.Value, v[i], depth)
		}
		return v[:min(len(v), 1)]
	case string:
		if depth > 1 {
			return strings.TrimSpace(firstLines(v))
		}
	}
	return v
}

// flowInside writes nodes with only plain values on one line, and reports whether a node is such.
func flowInside(n *yaml.Node) {
	n.Style = 0
	flat := len(n.Content) <= 8
	for _, c := range n.Content {
		flowInside(c)
		flat = flat && c.Kind == yaml.ScalarNode && len(c.Value) <= 80
	}
	if n.Kind != yaml.ScalarNode && flat {
		n.Style = yaml.FlowStyle
	}
}
