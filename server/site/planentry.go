package site

import (
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// entry is a question of the planner as the contract takes its answer: a choice, a number with its
// unit, or a text. Nil if it is not to be asked.
func (p *planner) entry(q planQuery, f planField, kind int, picker *picker) *entry {
	param := p.Operations["GET /v1/transfers/plan"].Query[f.name]
	if f.name == "species" && picker != nil && picker.Picked != nil {
		return nil // it is shown above, with a link to change it
	}
	name := f.name
	if _, animal := animalNames[f.name]; animal {
		name = ofKind(kind, f.name)
	}
	e := &entry{ID: name, Name: name, Label: f.label, Hint: f.hint, Value: q.Get(name)}
	schema := param.Schema.Value
	choices := choicesOf(schema)
	if f.name == "stage" && picker != nil && picker.Picked != nil {
		choices = picker.Picked.stageNames()
		if len(choices) < 2 {
			return nil
		}
	}
	switch {
	case f.name == "container_capacity":
		e.preset()
	case choices != nil:
		e.Choice, e.Radio = true, f.name == "stage" || f.name == "container_aerated"
		if !e.Radio || f.name == "stage" {
			e.Units = append(e.Units, option{"", unsaid(f.name), e.Value == ""})
		}
		for _, value := range choices {
			e.Units = append(e.Units, option{value, choiceName(value), value == e.Value})
		}
	case schema.Format == "date-time":
		e.Kind = "datetime-local"
		e.Value = e.Value[:min(len(e.Value), len("2006-01-02T15:04"))]
	case unitsOf[schema.Format] != nil:
		e.withUnit(q, schema.Format, f.name)
	case schema.Type.Is("integer"):
		e.Kind = "number"
	default:
		e.Kind = "text"
	}
	return e
}

// unsaid names a choice that was not made.
func unsaid(name string) string {
	switch name {
	case "stage":
		return "Not sure"
	case "condition":
		return choiceNames["well"]
	case "origin":
		return choiceNames["unknown"]
	case "route":
		return choiceNames["auto"]
	}
	return "Not said"
}

// choicesOf are the values that a parameter may have, if they are few, without the one that means
// the same as saying nothing.
func choicesOf(s *openapi3.Schema) []string {
	if s.Type.Is("boolean") {
		return []string{"true", "false"}
	}
	var list []string
	for _, v := range s.Enum {
		if text, ok := v.(string); ok && !slices.Contains([]string{"well", "unknown", "auto", "all"}, text) {
			list = append(list, text)
		}
	}
	return list
}

// preset offers the usual containers.
func (e *entry) preset() {
	e.Choice, e.Radio = true, true
	e.Own = &entry{ID: e.ID + "_own", Name: e.Name + "_own", Label: "Another size", Value: e.Value}
	for _, p := range presets {
		e.Units = append(e.Units, option{p.value, p.name, p.value == e.Value})
		if p.value == e.Value {
			e.Own.Value = ""
		}
	}
	e.Own.withUnit(planQuery{}, "volume", "")
}

// withUnit splits a quantity into number and unit. If none was given yet, it first offers the unit
// that the plan uses for another quantity of this kind.
func (e *entry) withUnit(q planQuery, format, name string) {
	units := unitsOf[format]
	unit := units[0]
	if usual := usualUnit[name]; usual != "" {
		unit = usual
	}
	number, own, parted := strings.Cut(e.Value, " ")
	switch {
	case parted && slices.Contains(units, own):
		e.Value, unit = number, own
	case e.Value == "" && usualUnit[name] == "":
		unit = q.usedUnit(units, unit)
	}
	for _, u := range units {
		shown := u
		if n := unitNames[u]; n != "" {
			shown = n
		}
		e.Units = append(e.Units, option{u, shown, u == unit})
	}
}

// usedUnit is the one of these units that the plan uses already.
func (q planQuery) usedUnit(units []string, otherwise string) string {
	for _, name := range []string{"from_salinity", "from_temperature", "container_capacity"} {
		if _, unit, _ := strings.Cut(q.Get(name), " "); slices.Contains(units, unit) {
			return unit
		}
	}
	return otherwise
}
