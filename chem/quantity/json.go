package quantity

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// object is a quantity or a reading in the JSON of an answer.
type object struct {
	Value       *float64    `json:"value"`
	Unit        string      `json:"unit"`
	Uncertainty float64     `json:"uncertainty,omitempty"`
	Convention  *Convention `json:"convention,omitempty"`
}

// plain reads an object exactly as Estimate writes it,
// {"value":1.5,"unit":"L","uncertainty":0.1}, without reflection, because a stored plan has
// hundreds of them. Anything written differently is not ok and is left to decode.
func plain(b []byte) (value, u float64, unit string, ok bool) {
	rest, ok := bytes.CutPrefix(b, []byte(`{"value":`))
	if !ok {
		return 0, 0, "", false
	}
	if value, rest, ok = plainNumber(rest); !ok {
		return 0, 0, "", false
	}
	if rest, ok = bytes.CutPrefix(rest, []byte(`,"unit":"`)); !ok {
		return 0, 0, "", false
	}
	end := bytes.IndexAny(rest, "\"\\")
	if end < 0 || rest[end] != '"' {
		return 0, 0, "", false
	}
	unit, rest = string(rest[:end]), rest[end+1:]
	if after, stated := bytes.CutPrefix(rest, []byte(`,"uncertainty":`)); stated {
		if u, rest, ok = plainNumber(after); !ok {
			return 0, 0, "", false
		}
	}
	return value, u, unit, len(rest) == 1 && rest[0] == '}'
}

// plainNumber reads a JSON number and stops at what follows it.
func plainNumber(b []byte) (x float64, rest []byte, ok bool) {
	end := 0
	for end < len(b) && (b[end] >= '0' && b[end] <= '9' || bytes.IndexByte([]byte("+-.eE"), b[end]) >= 0) {
		end++
	}
	if !json.Valid(b[:end]) {
		return 0, nil, false
	}
	x, err := strconv.ParseFloat(string(b[:end]), 64)
	return x, b[end:], err == nil
}

// appendNumber appends a finite number as encoding/json writes it.
func appendNumber(to []byte, x float64) []byte {
	if a := math.Abs(x); a != 0 && (a < 1e-6 || a >= 1e21) {
		to = strconv.AppendFloat(to, x, 'e', -1, 64)
		if n := len(to); n >= 4 && to[n-4] == 'e' && to[n-3] == '-' && to[n-2] == '0' { // e-09 is e-9
			to = append(to[:n-2], to[n-1])
		}
		return to
	}
	return strconv.AppendFloat(to, x, 'f', -1, 64)
}

// decode returns the text of a JSON string, or the object that is there instead.
func decode(b []byte) (text string, o *object, err error) {
	if bytes.HasPrefix(b, []byte(`"`)) {
		err = json.Unmarshal(b, &text)
		return text, nil, err
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&o); err != nil || o == nil || o.Value == nil {
		return "", nil, fmt.Errorf(`write a string such as "120 gal", or an object of value, unit and uncertainty`)
	}
	return "", o, nil
}

func finite(xs ...float64) error {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%g is not a number that can be written", x)
		}
	}
	return nil
}
