package site

import (
	"encoding/json"
	"errors"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"time"

	"saltlock/api"
	"saltlock/chem/quantity"
	"saltlock/server/contract"
)

// planQuery is a plan as its URL says it: the query names of GET /v1/transfers/plan, and for
// further kinds of animals the same names after animals_1_, animals_2_ ….
type planQuery struct {
	url.Values
	tongue
	contract *contract.Contract
	answered *string // the language of the service's last answer
}

// mostKinds is how many kinds of animals one plan takes, by the contract.
const mostKinds = 20

// ofKind is the query name of an animal's field of one kind.
func ofKind(kind int, name string) string {
	if kind == 0 {
		return name
	}
	return "animals_" + strconv.Itoa(kind) + "_" + name
}

var (
	furtherKind = regexp.MustCompile(`^animals_([1-9]\d?)_([a-z_]+)$`)
	localTime   = regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d$`)
	bareNumber  = regexp.MustCompile(`^[-+]?[\d.,]+$`)
	// leadingNumber begins a quantity whose comma is a decimal comma.
	leadingNumber = regexp.MustCompile(`^[-+]?\d*,\d`)
	threeDecimals = regexp.MustCompile(`^(\d+)\.(\d{3})(|[^\d].*)$`)
)

// kindOf is the kind and the plain name of a query name.
func kindOf(name string) (int, string) {
	if m := furtherKind.FindStringSubmatch(name); m != nil {
		kind, err := strconv.Atoi(m[1])
		if err == nil && kind < mostKinds {
			return kind, m[2]
		}
	}
	return 0, name
}

// planOf reads a plan from what a form or a link sent: an entry and its unit become one quantity,
// empty entries are left out, and what does not belong to a plan is dropped.
func planOf(c *contract.Contract, sent url.Values) planQuery {
	q := planQuery{url.Values{}, tongueOf(sent), c, new(string)}
	for name := range sent {
		name = strings.TrimSuffix(name, "_own") // beside a choice of usual sizes
		_, plain := kindOf(name)
		if !c.Plan.Has(plain) {
			continue
		}
		text, unit := sent.Get(name), sent.Get(name+"_unit")
		if own := sent.Get(name + "_own"); strings.TrimSpace(own) != "" {
			text, unit = own, sent.Get(name+"_own_unit")
		}
		text = strings.Join(strings.Fields(text), " ")
		if bareNumber.MatchString(text) && unit != "" {
			text += " " + unit
		}
		if leadingNumber.MatchString(text) && (q.tongue == inGerman || !thousand.MatchString(text)) {
			if pointed, err := quantity.DecimalComma(text); err == nil {
				text = q.decimal(pointed)
			}
		}
		if text != "" {
			q.Set(name, text)
		}
	}
	q.startsThere()
	return q
}

// decimal writes a number with a decimal point as the contract reads it in the query's language: in
// German three digits behind a point may be thousands, so they become fewer or four. Nobody has
// thousands of a specific gravity.
func (q planQuery) decimal(text string) string {
	m := threeDecimals.FindStringSubmatch(text)
	if m == nil || q.tongue != inGerman || strings.HasSuffix(text, "SG") {
		return text
	}
	switch fewer := strings.TrimRight(m[2], "0"); fewer {
	case "":
		return m[1] + m[3]
	case m[2]:
		return m[1] + "." + m[2] + "0" + m[3]
	default:
		return m[1] + "." + fewer + m[3]
	}
}

// startsThere adds the zone to a local start.
func (q planQuery) startsThere() {
	text := q.Get("start")
	if !localTime.MatchString(text) {
		return
	}
	zone, err := time.LoadLocation(q.Get("time_zone")) // the empty name is UTC
	if err != nil {
		zone = time.UTC
	}
	if t, err := time.ParseInLocation("2006-01-02T15:04", text, zone); err == nil {
		q.Set("start", t.Format(time.RFC3339))
	}
}

// kinds is how many kinds of animals the plan mentions.
func (q planQuery) kinds() int {
	most := 0
	for name := range q.Values {
		kind, _ := kindOf(name)
		most = max(most, kind)
	}
	return most + 1
}

// of is the part of a query about one kind of animal, in plain names; with shared, also everything
// that is not about animals.
func (q planQuery) of(kind int, shared bool) url.Values {
	part := url.Values{}
	for name := range q.Values {
		k, plain := kindOf(name)
		_, animal := animalNames[plain]
		if animal && k == kind || shared && !animal {
			part.Set(plain, q.Get(name))
		}
	}
	return part
}

// animalNames are the query names about an animal.
var animalNames = map[string]struct{}{"species": {}, "stage": {}, "count": {}, "mass": {}, "length": {}, "sensitivity": {}, "origin": {}, "condition": {}}

// body is the plan as it is posted.
func (q planQuery) body() ([]byte, error) {
	var whole struct {
		Animals []json.RawMessage `json:"animals,omitempty"`
	}
	text, err := q.contract.Plan.Body(q.of(0, true))
	if err != nil || q.kinds() == 1 {
		return text, err
	}
	if err := json.Unmarshal(text, &whole); err != nil {
		return nil, err
	}
	for kind := 1; kind < q.kinds(); kind++ {
		part, err := q.contract.Plan.Body(q.of(kind, false))
		if err != nil {
			return nil, err
		}
		animal := whole
		animal.Animals = nil
		if err := json.Unmarshal(part, &animal); err != nil {
			return nil, err
		}
		whole.Animals = append(whole.Animals, animal.Animals...)
	}
	fields := map[string]any{}
	if err := json.Unmarshal(text, &fields); err != nil {
		return nil, err
	}
	fields["animals"] = whole.Animals
	return json.Marshal(fields)
}

// ask puts the plan to its own operation: by URL, or by body if there are several kinds of
// animals, which a URL of the contract cannot hold.
func (q planQuery) ask(ask asker, format string) (int, []byte) {
	tail := ""
	if format != "" {
		tail = "?format=" + format
	}
	if q.kinds() == 1 {
		return ask(http.MethodGet, q.here("/v1/transfers/plan?"+strings.TrimPrefix(strings.Replace(tail, "?", "&", 1)+"&"+readable(q.Values), "&")), nil)
	}
	body, err := q.body()
	if wrong := new(strconv.NumError); errors.As(err, &wrong) { // the one thing that the body does not carry for the contract to judge
		reason := q.voice().Say("must_be", "a whole number")
		text, err := json.Marshal(api.Problem{Status: http.StatusBadRequest, Errors: &[]api.Fault{{Where: "/animals/0/count", Reason: reason, Rule: "type"}}})
		if err == nil {
			return http.StatusBadRequest, text
		}
	}
	if err != nil {
		return http.StatusBadRequest, []byte(err.Error())
	}
	return ask(http.MethodPost, q.here("/v1/transfers/plan"+tail), body)
}

// foreign is the language of the last answer if it is not that of the page: what cannot be said in
// the page's language is said in English, all of it.
func (q planQuery) foreign() string {
	if q.answered == nil || *q.answered == "" || *q.answered == q.code() {
		return ""
	}
	return *q.answered
}

// labelled is a fault behind the label of its entry, both in the language of the fault.
func (q planQuery) labelled(e *entry, reason, foreign string) string {
	label := e.Label
	if foreign == "" {
		label = q.says(label)
	}
	return label + ": " + reason
}

// link is where to get another form of the plan: from the service itself if a URL of the contract
// can hold the plan, so that programs can take it from there.
func (q planQuery) link(format string) string {
	if q.kinds() == 1 {
		return q.here("/v1/transfers/plan?" + readable(q.Values) + "&format=" + format)
	}
	return q.here("/plan/" + format + "?" + readable(q.Values))
}

// with is the address of the plan's page with some names changed; an empty value removes one.
func (q planQuery) with(pairs ...string) string {
	v := url.Values{}
	for name := range q.Values {
		v.Set(name, q.Get(name))
	}
	fragment := ""
	for i := 0; i+1 < len(pairs); i += 2 {
		switch {
		case pairs[i] == "#":
			fragment = "#" + pairs[i+1]
		case pairs[i+1] == "":
			v.Del(pairs[i])
		default:
			v.Set(pairs[i], q.decimal(pairs[i+1]))
		}
	}
	return q.here("/plan?" + readable(v) + fragment)
}

// nameAt is the query name of a fault's place, which is such a name or a pointer into the posted
// body.
func (q planQuery) nameAt(where string) string {
	dotted, pointed := strings.CutPrefix(where, "/")
	if !pointed {
		return where
	}
	dotted = strings.ReplaceAll(dotted, "/", ".")
	kind := 0
	if rest, ok := strings.CutPrefix(dotted, "animals."); ok {
		if number, field, ok := strings.Cut(rest, "."); ok {
			if k, err := strconv.Atoi(number); err == nil && k < mostKinds {
				kind, dotted = k, "animals.0."+field
			}
		}
	}
	return ofKind(kind, q.contract.Plan.Name(dotted))
}
