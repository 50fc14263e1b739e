// Package bots is the door for chat programs: a few operations of the contract as tools of the
// Model Context Protocol (streamable HTTP, without sessions). A tool asks the service as any
// client does, so bounds, admission and wording are the same.
package bots

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/modelcontextprotocol/go-sdk/jsonrpc"
	"github.com/modelcontextprotocol/go-sdk/mcp"

	"saltlock/server/contract"
)

// maxMessage is how many bytes one message may hold; a plan's arguments take two thousand.
const maxMessage = 64 << 10

// instructions are what a model reads first.
const instructions = `Give every quantity with its unit, as "450 L", "2 ppt" or "78 F". Ask the keeper for what is missing; never guess the salinity, the volume or the kind of animal. Pass on refusals and cautions whole: they protect the animals. Never make up a plan where none is given. A sick animal needs a vet; electrical work near salt water needs an electrician.`

// Options is what the door needs.
type Options struct {
	Contract  *contract.Contract
	Service   http.Handler // the whole service, with what it demands of every client
	PublicURL string       // besides this host's own, the address whose pages may speak to the tools
	Log       *slog.Logger
}

// caller is the context key of the request that calls a tool.
type caller struct{}

// New makes the handler of the door. Browsers on pages of other sites are turned away by their
// Origin.
func New(o Options) (http.Handler, error) {
	server := mcp.NewServer(&mcp.Implementation{Name: "saltlock", Title: o.Contract.Doc.Info.Title, Version: o.Contract.Doc.Info.Version},
		&mcp.ServerOptions{Instructions: instructions, Logger: o.Log})
	for _, t := range tools {
		op := o.Contract.ByID(t.operation)
		if op == nil {
			return nil, fmt.Errorf("the tool %s needs the operation %s", t.name, t.operation)
		}
		input, err := t.schema(op)
		if err != nil {
			return nil, err
		}
		server.AddTool(&mcp.Tool{Name: t.name, Title: op.Summary, Description: t.description(op), InputSchema: input,
			Annotations: &mcp.ToolAnnotations{ReadOnlyHint: op.Route.Method == http.MethodGet, OpenWorldHint: new(false), DestructiveHint: new(false)}},
			func(ctx context.Context, r *mcp.CallToolRequest) (*mcp.CallToolResult, error) {
				return t.call(ctx, o.Service, op, r.Params.Arguments)
			})
	}
	// The library would refuse the public name behind a proxy; answered checks names instead.
	door := mcp.NewStreamableHTTPHandler(func(*http.Request) *mcp.Server { return server },
		&mcp.StreamableHTTPOptions{Stateless: true, JSONResponse: true, MaxRequestBodyBytes: maxMessage, DisableLocalhostProtection: true, PropagateRequestCancellation: true})
	origins := http.NewCrossOriginProtection()
	if at, err := url.Parse(o.PublicURL); err == nil && at.Host != "" {
		if err := origins.AddTrustedOrigin(at.Scheme + "://" + at.Host); err != nil {
			return nil, fmt.Errorf("the public address as an origin: %w", err)
		}
	}
	return answered(o.PublicURL, origins.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		door.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), caller{}, r)))
	}))), nil
}

// call puts the arguments of a tool into a request and returns the text of the answer.
func (t tool) call(ctx context.Context, service http.Handler, op *contract.Operation, arguments json.RawMessage) (*mcp.CallToolResult, error) {
	given := map[string]any{}
	if len(arguments) > 0 {
		d := json.NewDecoder(bytes.NewReader(arguments))
		d.UseNumber()
		if err := d.Decode(&given); err != nil {
			return nil, &jsonrpc.Error{Code: jsonrpc.CodeInvalidParams, Message: "the arguments are no object: give each by its name"}
		}
	}
	r, err := t.request(ctx, op, given)
	if err != nil {
		return nil, &jsonrpc.Error{Code: jsonrpc.CodeInvalidParams, Message: err.Error()}
	}
	from, ok := ctx.Value(caller{}).(*http.Request)
	if !ok {
		return nil, fmt.Errorf("%s is called by no request", t.name)
	}
	r.RemoteAddr, r.Host = from.RemoteAddr, from.Host
	for _, name := range []string{"Authorization", "X-Forwarded-For"} { // who asks, and what that allows
		if values := from.Header.Values(name); len(values) > 0 {
			r.Header[name] = values
		}
	}
	answer := &read{header: http.Header{}, status: http.StatusOK}
	service.ServeHTTP(answer, r)
	return &mcp.CallToolResult{Content: []mcp.Content{&mcp.TextContent{Text: strings.TrimSpace(answer.String())}}, IsError: answer.status >= http.StatusBadRequest}, nil
}

// request makes the request of an operation from words: as its query, or as its body if it has
// one.
func (t tool) request(ctx context.Context, op *contract.Operation, given map[string]any) (*http.Request, error) {
	path := op.Route.Path
	for _, p := range op.Parameters {
		if p.Value.In == openapi3.ParameterInPath {
			if given[p.Value.Name] == nil {
				return nil, fmt.Errorf("%s needs %s", t.name, p.Value.Name)
			}
			path = strings.ReplaceAll(path, "{"+p.Value.Name+"}", url.PathEscape(fmt.Sprint(given[p.Value.Name])))
			delete(given, p.Value.Name)
		}
	}
	query := url.Values{"format": {"text"}}
	var body []byte
	if op.RequestBody != nil {
		var err error
		if body, err = json.Marshal(given); err != nil {
			return nil, fmt.Errorf("write the arguments of %s: %w", t.name, err)
		}
	} else {
		for name, value := range given {
			if name == "format" || name == "only" { // tools answer in words
				continue
			}
			list, ok := value.([]any)
			if !ok {
				list = []any{value}
			}
			for _, one := range list {
				query.Add(name, fmt.Sprint(one))
			}
		}
	}
	r, err := http.NewRequestWithContext(ctx, op.Route.Method, path+"?"+query.Encode(), bytes.NewReader(body))
	if err != nil {
		return nil, fmt.Errorf("ask for %s: %w", t.name, err)
	}
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	return r, nil
}

// read catches an answer to be read here instead of sent.
type read struct {
	header http.Header
	status int
	bytes.Buffer
}

func (r *read) Header() http.Header { return r.header }

func (r *read) WriteHeader(status int) { r.status = status }
