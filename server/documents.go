package server

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/labstack/echo/v4"

	"saltlock/server/contract"
	"saltlock/server/site"
)

// document is a text for programs that does not change while the service runs. It is written when
// first asked for.
type document func() (*site.Asset, error)

func newDocument(media string, write func() ([]byte, error)) document {
	return sync.OnceValues(func() (*site.Asset, error) {
		body, err := write()
		if err != nil {
			return nil, fmt.Errorf("write a document: %w", err)
		}
		return site.NewAsset(media, body), nil
	})
}

func (d document) send(c echo.Context) error {
	a, err := d()
	if err != nil {
		return err
	}
	return a.Send(c)
}

// documents tell programs what this service offers and where.
type documents struct {
	yaml, json, index, catalog, llms document
}

// servedAt is the contract with the address at which this service is reached.
func servedAt(spec []byte, base string) []byte {
	if base == "" {
		return spec
	}
	head, rest, found := bytes.Cut(spec, []byte("\nservers:\n"))
	if !found {
		return spec
	}
	_, rest, _ = bytes.Cut(rest, []byte("\n"))
	entry := fmt.Sprintf("\nservers:\n  - {url: '%s', description: This service.}\n", strings.ReplaceAll(base, "'", "''"))
	return slices.Concat(head, []byte(entry), rest)
}

// newDocuments makes the documents from the contract.
func newDocuments(c *Contract) documents {
	base := strings.TrimRight(c.Doc.Servers[0].URL, "/")
	return documents{
		yaml:  newDocument("application/yaml; charset=utf-8", func() ([]byte, error) { return c.text, nil }),
		json:  newDocument(echo.MIMEApplicationJSON, c.Doc.MarshalJSON),
		index: newDocument(echo.MIMEApplicationJSON, func() ([]byte, error) { return indented(indexOf(c.Contract, base)) }),
		catalog: newDocument(`application/linkset+json; profile="https://www.rfc-editor.org/info/rfc9727"`,
			func() ([]byte, error) { return indented(catalogOf(base)) }),
		llms: newDocument("text/plain; charset=utf-8", func() ([]byte, error) { return llmsText(c.Contract, base), nil }),
	}
}

// indented is JSON that people can read too.
func indented(v any) ([]byte, error) {
	text, err := json.MarshalIndent(v, "", "  ")
	return append(text, '\n'), err
}

// index is what GET /v1 answers.
type index struct {
	Name       string      `json:"name"`
	Version    string      `json:"version"`
	Contract   string      `json:"contract"`
	Reference  string      `json:"reference"`
	Operations []indexLine `json:"operations"`
}

type indexLine struct {
	Operation string `json:"operation"`
	Method    string `json:"method"`
	Path      string `json:"path"`
	Summary   string `json:"summary"`
}

func indexOf(c *contract.Contract, base string) index {
	all := index{Name: c.Doc.Info.Title, Version: Version, Contract: base + "/openapi.json", Reference: base + "/docs"}
	for _, o := range versioned(c) {
		all.Operations = append(all.Operations, indexLine{o.OperationID, o.Route.Method, o.Route.Path, o.Summary})
	}
	return all
}

// versioned lists the operations under /v1 in the order of the contract's tags.
func versioned(c *contract.Contract) []*contract.Operation {
	tag := map[string]int{}
	for i, t := range c.Doc.Tags {
		tag[t.Name] = i
	}
	var all []*contract.Operation
	for _, o := range c.Operations {
		if strings.HasPrefix(o.Route.Path, "/v1/") {
			all = append(all, o)
		}
	}
	slices.SortFunc(all, func(a, b *contract.Operation) int {
		if d := tag[a.Tags[0]] - tag[b.Tags[0]]; d != 0 {
			return d
		}
		if d := strings.Compare(a.Route.Path, b.Route.Path); d != 0 {
			return d
		}
		return strings.Compare(a.Route.Method, b.Route.Method)
	})
	return all
}

// catalogOf lists this one API as RFC 9727 asks, in a linkset (RFC 9264).
func catalogOf(base string) any {
	type target struct {
		Href string `json:"href"`
		Type string `json:"type"`
	}
	return map[string]any{"linkset": []any{map[string]any{
		"anchor": base + "/v1",
		"service-desc": []target{
			{base + "/openapi.yaml", "application/yaml"},
			{base + "/openapi.json", "application/json"},
		},
		"service-doc": []target{{base + "/docs", "text/html"}, {base + "/llms.txt", "text/plain"}},
		"status":      []target{{base + "/readyz", "text/plain"}},
	}}}
}

// llmsText tells a chat program on one page what it can ask.
func llmsText(c *contract.Contract, base string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# %s\n\n> Moving fish and other animals between fresh, brackish and sea water: what an instrument really read,\n> how much salt new water needs, what an animal tolerates, and a plan for the move that keeps it alive.\n\n", c.Doc.Info.Title)
	fmt.Fprintf(&b, "Ask by GET; add `format=text` for an answer to read out. Give every quantity with its unit, as `450 L`, `2 ppt` or `78 F`.\nA refusal says what was wrong and what to do instead: pass it on, and never make up a plan where none is given.\nA name that several species share is asked back. A vet and local law come first.\n\n## Questions\n\n")
	for _, o := range versioned(c) {
		fmt.Fprintf(&b, "- [%s](%s%s): %s `%s %s`\n", o.Summary, base, "/docs#"+o.OperationID, firstSentence(o.Description), o.Route.Method, o.Route.Path)
	}
	fmt.Fprintf(&b, "\n## The contract\n\n- `%[1]s/mcp`: the same questions as tools of the Model Context Protocol (streamable HTTP, no session)\n- [OpenAPI](%[1]s/openapi.json): every parameter with its bounds\n- [Reference](%[1]s/docs): every operation with examples and what this server answers\n", base)
	return b.Bytes()
}

// firstSentence is the start of a description, in one line.
func firstSentence(description string) string {
	text := strings.Join(strings.Fields(description), " ")
	if end := strings.Index(text, ". "); end >= 0 {
		return text[:end+1]
	}
	return text
}

// GetContractYAML answers GET /openapi.yaml.
func (s *Server) GetContractYAML(c echo.Context) error { return s.documents.yaml.send(c) }

// GetContractJSON answers GET /openapi.json.
func (s *Server) GetContractJSON(c echo.Context) error { return s.documents.json.send(c) }

// GetIndex answers GET /v1.
func (s *Server) GetIndex(c echo.Context) error { return s.documents.index.send(c) }

// GetAPICatalog answers GET /.well-known/api-catalog.
func (s *Server) GetAPICatalog(c echo.Context) error { return s.documents.catalog.send(c) }

// GetLlmsText answers GET /llms.txt.
func (s *Server) GetLlmsText(c echo.Context) error { return s.documents.llms.send(c) }
