package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
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
	if strings.HasPrefix(c.Request().Header.Get(echo.HeaderContentType), "text/csv") {
		return s.convertTable(c)
	}
	var list []json.RawMessage
	if err := json.NewDecoder(c.Request().Body).Decode(&list); err != nil {
		return &fault{Where: "/", Reason: "the body is no list; send [{\"reading\": …}, …]", Rule: "type"}
	}
	schema := s.contract.operation(c).RequestBody.Value.Content["application/json"].Schema.Value
	if most := int(*schema.MaxItems); len(list) == 0 || len(list) > most {
		return &fault{Where: "/", Reason: fmt.Sprintf("%d readings are given; 1 to %d are allowed in a list, any number as text/csv", len(list), most), Rule: "maxItems"}
	}
	all := &outcomes{Items: make([]outcome, len(list)), Methods: []string{}}
	for i, item := range list {
		all.Items[i] = s.convertItem(schema.Items.Value, item)
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

// convertItem checks one item of a list by itself, so that a bad one stops no other.
func (s *Server) convertItem(schema *openapi3.Schema, item json.RawMessage) outcome {
	var value any
	err := json.Unmarshal(item, &value)
	if err == nil {
		err = schema.VisitJSON(value, append(s.contract.filter.SchemaValidationOptions, openapi3.MultiErrors())...)
	}
	var request instrument.ConversionRequest
	if err == nil {
		err = json.Unmarshal(item, &request)
	}
	if err == nil {
		var conversion instrument.Conversion
		if conversion, err = instrument.Convert(request); err == nil {
			return outcome{Conversion: &conversion}
		}
	}
	return outcome{Errors: s.faultsOf(err)}
}

// faultsOf lists what is wrong with one of many readings.
func (s *Server) faultsOf(err error) []api.Fault {
	p := problemOf(err, func(dotted string) string { return dotted })
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
			rows[i].conversionRow = conversionRow{item.Conversion, gravityAt(item.Conversion, "25C/25C")}
		} else {
			rows[i].conversionRow = conversionRow{Conversion: &instrument.Conversion{}}
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
