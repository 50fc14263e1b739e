package server

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/server/contract"
)

// itemsAtOnce is how many items of a list are converted and sent together at most. Each makes two
// kilobytes of JSON, which a slow client must take within clientWait.
const itemsAtOnce = 50

// ConvertReadings answers POST /v1/conversions.
func (s *Server) ConvertReadings(c echo.Context) error {
	a := askedOf(c)
	if a.Table {
		return s.convertTable(c, a)
	}
	schema := s.contract.Operation(c).RequestBody.Value.Content["application/json"].Schema.Value
	items, err := contract.ListItems(a.List, int(*schema.MaxItems))
	if err != nil {
		return err
	}
	return replyEach(s, c, &listFeed{server: s, schema: schema.Items.Value, items: items, comma: a.voice.Comma, wanted: wantedFor(a)}, nil, true)
}

// replyEach answers readings in the format asked for, chunk by chunk. head names the cells that a
// table returns unchanged.
func replyEach[T any](s *Server, c echo.Context, from feed[T], head []string, together bool) error {
	a := askedOf(c)
	w := c.Response()
	p := &pipeline[T]{server: s, feed: from, form: formOf(a, head), most: itemsAtOnce, together: together,
		link: link{http.NewResponseController(w.Writer), w, a.Table, s.stopping}}
	if a.Format == "text/csv" {
		p.most = rowsAtOnce
		w.Header().Set("Trailer", "Saltlock-Rows-Good, Saltlock-Rows-Bad")
	}
	w.Header().Set(echo.HeaderContentType, mediaOf(a.Format))
	w.Header().Set("Content-Language", a.speaks().Language.String())
	w.WriteHeader(http.StatusOK)
	if a.Table {
		defer p.link.endReading()()
	}
	if err := p.run(); err != nil {
		p.link.cut()
		return err
	}
	if a.Format == "text/csv" {
		w.Header().Set("Saltlock-Rows-Good", strconv.Itoa(p.good))
		w.Header().Set("Saltlock-Rows-Bad", strconv.Itoa(p.bad))
	}
	return nil
}

// listFeed reads the items of a JSON list.
type listFeed struct {
	server *Server
	schema *openapi3.Schema
	items  []json.RawMessage
	comma  bool // decimal
	wanted instrument.Measures
}

func (l *listFeed) next() (item json.RawMessage, size int, err error) {
	if len(l.items) == 0 {
		return nil, 0, io.EOF
	}
	item = l.items[0]
	l.items = l.items[1:]
	return item, len(item), nil
}

func (l *listFeed) ready() bool { return true }

func (l *listFeed) own(json.RawMessage) []string { return nil }

func (l *listFeed) place(dotted string) string { return pointer(dotted) }

// convert checks one item of a list on its own, so that a bad one does not stop the others.
func (l *listFeed) convert(item json.RawMessage, every bool) (none instrument.Conversion, err error) {
	if len(item) > contract.MaxItem {
		return none, &contract.Fault{Where: "/", Reason: fmt.Sprintf("takes %d bytes; a reading has at most %d", len(item), contract.MaxItem), Rule: "maxLength"}
	}
	plain, err := contract.PlainJSON(item)
	if err != nil {
		return none, err
	}
	var unclear error
	if l.comma {
		plain, unclear = contract.PointJSON(l.schema, plain)
	}
	var value any
	if err := contract.DecodeJSON(plain, &value); err != nil {
		return none, err
	}
	rules := slices.Clone(l.server.contract.Filter.SchemaValidationOptions)
	if every {
		rules = append(rules, openapi3.MultiErrors())
	}
	if err := errors.Join(unclear, l.schema.VisitJSON(value, rules...)); err != nil {
		return none, err
	}
	var request instrument.ConversionRequest
	if err := contract.DecodeJSON(plain, &request); err != nil {
		return none, err
	}
	return instrument.ConvertTo(request, l.wanted)
}

// faultsOf lists what is wrong with one of many readings, up to a number of faults; the last one
// counts those left out.
func (s *Server) faultsOf(err error, place func(string) string, most int) []api.Fault {
	p := problemOf(err, place)
	if p.Errors == nil {
		s.log.Error("no conversion", "error", err)
		return []api.Fault{{Where: "/", Reason: http.StatusText(http.StatusInternalServerError), Rule: "internal"}}
	}
	all := len(*p.Errors)
	if p.MoreErrors != nil {
		all += *p.MoreErrors
	}
	if all > most {
		*p.Errors = append((*p.Errors)[:most-1], api.Fault{Where: "/", Reason: fmt.Sprintf("and %d more faults", all-most+1), Rule: "untold"})
	}
	return *p.Errors
}

// sentence joins faults into one cell.
func sentence(faults []api.Fault) string {
	parts := make([]string, len(faults))
	for i, f := range faults {
		parts[i] = f.Reason
		if where := strings.TrimPrefix(f.Where, "/"); where != "" {
			parts[i] = where + ": " + f.Reason
		}
	}
	return strings.Join(parts, "; ")
}
