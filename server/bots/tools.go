package bots

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"saltlock/server/contract"
)

// tool is an operation that models may use.
type tool struct {
	name, operation string
	names           []string // of the parameters shown; nil shows all but those that shape the answer
	note            string   // added to the operation's description
}

// The names are the verbs a keeper would use. A plan has some 130 parameters; those shown are what
// a keeper can say in a conversation, and the rest are accepted too.
var tools = []tool{
	{name: "convert_reading", operation: "getConversion"},
	{name: "make_salt_water", operation: "getSaltMix"},
	{name: "change_water", operation: "getWaterChange"},
	{name: "find_species", operation: "listSpecies"},
	{name: "look_up_species", operation: "getSpecies"},
	{name: "compare_species", operation: "getCompatibility"},
	{name: "plan_move", operation: "getTransferPlan", names: []string{
		"from_salinity", "from_temperature", "from_ph", "from_tan", "from_hours_in_bag",
		"to_salinity", "to_temperature", "to_ph", "room_temperature",
		"species", "stage", "count", "length", "mass", "sensitivity", "origin", "condition",
		"container_capacity", "container_start_volume", "container_aerated", "container_heated", "container_overflow",
		"line_drop_volume", "line_settings", "home_tank_volume", "home_tank_source", "holding_tanks_volume",
		"instrument_kind", "route", "prefer", "start", "visits_every", "recent_change",
	}, note: "Further query parameters of GET /v1/transfers/plan are taken, too."},
	{name: "read_transfer", operation: "getTransfer"},
	{name: "what_to_do_now", operation: "getTransferNow"},
	{name: "log_reading", operation: "logReading", note: keyNote},
	{name: "report_trouble", operation: "logEvent", note: keyNote},
}

const keyNote = "The key of the transfer belongs in the Authorization header of the connection, never in an argument: ask the keeper to set it there, not to tell it."

// form are the parameters that shape an answer, which here is always text.
var form = []string{"format", "only", "curve", "lang", "decimal", "sep", "again"}

// description says what the operation is for.
func (t tool) description(op *contract.Operation) string {
	return strings.TrimSpace(strings.Join(strings.Fields(op.Description), " ") + " " + t.note)
}

// schema is the input of a tool: the parameters of its operation, or its path and body.
func (t tool) schema(op *contract.Operation) (json.RawMessage, error) {
	properties, required := map[string]any{}, []string{}
	for _, p := range op.Parameters {
		p := p.Value
		if p.In != openapi3.ParameterInPath && p.In != openapi3.ParameterInQuery || p.Deprecated ||
			slices.Contains(form, p.Name) || op.RequestBody != nil && p.In == openapi3.ParameterInQuery {
			continue
		}
		if p.Required {
			required = append(required, p.Name)
		} else if t.names != nil && !slices.Contains(t.names, p.Name) {
			continue
		}
		one := plain(p.Schema.Value)
		one["description"] = exampled(p.Description, p.Example)
		properties[p.Name] = one
	}
	if op.RequestBody != nil {
		body := op.RequestBody.Value.Content["application/json"].Schema.Value
		required = append(required, body.Required...)
		for name, s := range body.Properties {
			properties[name] = plain(s.Value)
		}
	}
	for _, name := range t.names {
		if _, ok := properties[name]; !ok {
			return nil, fmt.Errorf("the tool %s shows %s, which %s does not take", t.name, name, t.operation)
		}
	}
	text, err := json.Marshal(map[string]any{"type": "object", "properties": properties, "required": required, "additionalProperties": t.names != nil})
	if err != nil {
		return nil, fmt.Errorf("write the input of the tool %s: %w", t.name, err)
	}
	return text, nil
}

// exampled adds an example to a description.
func exampled(description string, example any) string {
	if example == nil {
		return description
	}
	return fmt.Sprintf("%s Example: %v", description, example)
}

// plain is a schema of the contract in the keywords that JSON Schema and OpenAPI share.
func plain(s *openapi3.Schema) map[string]any {
	m := map[string]any{}
	for _, part := range s.AllOf {
		maps.Copy(m, plain(part.Value))
	}
	if s.Type != nil {
		m["type"] = s.Type.Slice()[0]
	}
	if s.Description != "" {
		m["description"] = s.Description
	}
	if len(s.Enum) > 0 {
		m["enum"] = s.Enum
	}
	if s.Min != nil {
		m["minimum"] = *s.Min
	}
	if s.Max != nil {
		m["maximum"] = *s.Max
	}
	if s.MaxLength != nil {
		m["maxLength"] = *s.MaxLength
	}
	if s.MaxItems != nil {
		m["maxItems"] = *s.MaxItems
	}
	if s.Items != nil {
		m["items"] = plain(s.Items.Value)
	}
	if len(s.Properties) > 0 {
		of := map[string]any{}
		for name, p := range s.Properties {
			of[name] = plain(p.Value)
		}
		m["properties"], m["required"] = of, append([]string{}, s.Required...)
	}
	return m
}
