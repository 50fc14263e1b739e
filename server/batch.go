package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
	"saltlock/server/render"
)

// outcome is one reading's conversion, or what is wrong with it.
type outcome struct {
	Conversion *instrument.Conversion `json:"conversion,omitempty"`
	Errors     []api.Fault            `json:"errors,omitempty"`
}

// outcomes are those of a list.
type outcomes struct {
	Good    int       `json:"good"`
	Bad     int       `json:"bad"`
	Items   []outcome `json:"items"`
	Methods []string  `json:"methods"`
}

func (o *outcomes) Notes() []*quantity.Note {
	var all []*quantity.Note
	for _, item := range o.Items {
		if item.Conversion != nil {
			all = append(all, item.Conversion.Notes()...)
		}
	}
	return all
}

// ConvertReadings answers POST /v1/conversions.
func (s *Server) ConvertReadings(c echo.Context) error {
	if c.Get("asked").(*asked).Table {
		return s.convertTable(c)
	}
	schema := s.contract.Operation(c).RequestBody.Value.Content["application/json"].Schema.Value
	list, err := contract.ListItems(c.Request().Body, int(*schema.MaxItems))
	if err != nil {
		return err
	}
	all := &outcomes{Items: make([]outcome, len(list)), Methods: []string{}}
	left := contract.MaxTold // faults of the whole list that are still described
	for i, item := range list {
		all.Items[i] = s.convertItem(schema.Items.Value, item, left)
		left -= min(left, len(all.Items[i].Errors))
		if all.Items[i].Errors == nil {
			all.Good++
		} else {
			all.Bad++
		}
	}
	return reply(c, nil, all, view[*outcomes]{
		lines: func(v render.Voice, o *outcomes) []string {
			return []string{v.Say("conversions_counted", o.Good, o.Bad)}
		},
		rows: func(o *outcomes) any { return conversionRows(o.Items) },
	})
}

// untold stands for the faults of an item when enough of others are described.
var untold = []api.Fault{{Where: "/", Reason: "wrong, too; correct the items described above first", Rule: "untold"}}

// convertItem checks one item of a list by itself, so that a bad one stops no
// other. At most so many of its faults are described.
func (s *Server) convertItem(schema *openapi3.Schema, item json.RawMessage, most int) outcome {
	conversion, err := s.convert(schema, item, most > 0)
	switch {
	case err == nil:
		return outcome{Conversion: &conversion}
	case most == 0:
		return outcome{Errors: untold}
	}
	return outcome{Errors: s.faultsOf(err, most)}
}

func (s *Server) convert(schema *openapi3.Schema, item json.RawMessage, every bool) (none instrument.Conversion, err error) {
	if len(item) > contract.MaxItem {
		return none, &contract.Fault{Where: "/", Reason: fmt.Sprintf("takes %d bytes; a reading has at most %d", len(item), contract.MaxItem), Rule: "maxLength"}
	}
	plain, err := contract.PlainJSON(item)
	if err != nil {
		return none, err
	}
	var value any
	if err := contract.DecodeJSON(plain, &value); err != nil {
		return none, err
	}
	rules := slices.Clone(s.contract.Filter.SchemaValidationOptions)
	if every {
		rules = append(rules, openapi3.MultiErrors())
	}
	if err := schema.VisitJSON(value, rules...); err != nil {
		return none, err
	}
	var request instrument.ConversionRequest
	if err := contract.DecodeJSON(plain, &request); err != nil {
		return none, err
	}
	return instrument.Convert(request)
}

// faultsOf lists what is wrong with one of many readings: at most so many
// faults, of which the last counts those that are not described.
func (s *Server) faultsOf(err error, most int) []api.Fault {
	p := problemOf(err, func(dotted string) string { return dotted })
	if p.Errors != nil {
		all := len(*p.Errors)
		if p.MoreErrors != nil {
			all += *p.MoreErrors
		}
		if all > most {
			*p.Errors = append((*p.Errors)[:most-1], api.Fault{Where: "/", Reason: fmt.Sprintf("and %d more faults", all-most+1), Rule: "untold"})
		}
	}
	if p.Errors == nil {
		s.log.Error("no conversion", "error", err)
		return []api.Fault{{Where: "/", Reason: http.StatusText(http.StatusInternalServerError), Rule: "internal"}}
	}
	return *p.Errors
}

// conversionRows are the conversions of a list as rows of a table.
func conversionRows(items []outcome) []batchRow {
	rows := make([]batchRow, len(items))
	for i, item := range items {
		rows[i] = batchRow{Error: sentence(item.Errors)}
		if item.Conversion != nil {
			rows[i].conversionRow = conversionRow{item.Conversion, gravityAt25(item.Conversion)}
		}
	}
	return rows
}

// batchRow is a conversion in a table of many.
type batchRow struct {
	conversionRow
	Error string `json:"error"`
}

// sentence puts faults into one cell.
func sentence(faults []api.Fault) string {
	parts := make([]string, len(faults))
	for i, f := range faults {
		parts[i] = strings.TrimPrefix(f.Where, "/") + ": " + f.Reason
	}
	return strings.Join(parts, "; ")
}
