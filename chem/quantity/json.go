package quantity

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
)

// object is a quantity or a reading as the JSON of an answer has it.
type object struct {
	Value       *float64    `json:"value"`
	Unit        string      `json:"unit"`
	Uncertainty float64     `json:"uncertainty,omitempty"`
	Convention  *Convention `json:"convention,omitempty"`
}

// decode returns the text of a JSON string, or the object that stands instead.
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
