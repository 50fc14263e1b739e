package contract

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
)

// Deprecation is what the contract says about an operation that will go away.
type Deprecation struct{ since, sunset time.Time }

// deprecationOf reads deprecated, x-deprecated-since and x-sunset (days, as in 2027-06-30) of an
// operation; nil if it stays. A deprecated operation without both days keeps the program from
// starting.
func deprecationOf(op *openapi3.Operation) (*Deprecation, error) {
	if !op.Deprecated {
		return nil, nil
	}
	var d Deprecation
	for name, day := range map[string]*time.Time{"x-deprecated-since": &d.since, "x-sunset": &d.sunset} {
		text, _ := op.Extensions[name].(string)
		at, err := time.Parse(time.DateOnly, text)
		if err != nil {
			return nil, fmt.Errorf("%s is deprecated and needs %s, a day such as '2027-06-30': %w", op.OperationID, name, err)
		}
		*day = at
	}
	if d.sunset.Before(d.since) {
		return nil, fmt.Errorf("%s ends on %s, before it is deprecated", op.OperationID, d.sunset.Format(time.DateOnly))
	}
	return &d, nil
}

// Announce warns the client's maker with the headers of RFC 9745 and RFC 8594.
func (d *Deprecation) Announce(h http.Header, operationID string) {
	h.Set("Deprecation", "@"+strconv.FormatInt(d.since.Unix(), 10))
	h.Set("Sunset", d.sunset.Format(http.TimeFormat))
	h.Add("Link", `</docs#`+operationID+`>; rel="deprecation"; type="text/html", </docs/changelog>; rel="sunset"; type="text/html"`)
}

// Since is the day from which the operation is deprecated.
func (d *Deprecation) Since() string { return d.since.Format(time.DateOnly) }

// Sunset is the day from which the operation may be gone.
func (d *Deprecation) Sunset() string { return d.sunset.Format(time.DateOnly) }
