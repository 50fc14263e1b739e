package encode

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"testing"
	"time"

	"saltlock/chem/instrument"
	"saltlock/chem/mixing"
	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
	"saltlock/chem/transfer"
)

// A number comes back as itself rounded to twelve significant digits.
func TestNumber(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "0"}, {1, "1"}, {-1, "-1"}, {35, "35"}, {1e6, "1000000"}, {0.1, "0.1"}, {-0.25, "-0.25"},
		{13.289123456789012, "13.2891234568"}, {1023.3436299999999, "1023.34363"}, {0.000012345678901234, "0.0000123456789012"},
		{1e-7, "1e-7"}, {1.25e-9, "1.25e-9"}, {1e21, "1e21"}, {1.5e20, "150000000000000000000"}, {123456789012345, "123456789012000"},
		{0.99999999999999, "1"}, {9.9999999999999, "10"}, {999999999999.9, "1000000000000"},
	} {
		if got, err := Number(nil, c.x); string(got) != c.want || err != nil {
			t.Errorf("Number(%.17g) = %s, %v, want %s", c.x, got, err, c.want)
		}
	}
	random := rand.New(rand.NewPCG(1, 1))
	for range 100_000 {
		x := math.Float64frombits(random.Uint64())
		got, err := Number(nil, x)
		if math.IsNaN(x) || math.IsInf(x, 0) {
			if err == nil {
				t.Fatalf("Number(%g) = %s", x, got)
			}
			continue
		}
		back, errBack := strconv.ParseFloat(string(got), 64)
		want, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', significant-1, 64), 64)
		if err != nil || errBack != nil && !math.IsInf(want, 0) || back != want || !json.Valid(got) {
			t.Fatalf("Number(%g) = %s, %v", x, got, err)
		}
	}
}

// Numbers of the size of answers are rounded as strconv does, including those half way between
// two.
func TestNumberOfAnswers(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for i := range 300_000 {
		x := (random.Float64() - 0.5) * math.Pow10(random.IntN(24)-10)
		if i%3 == 0 { // a tie, or what is next to one
			x = math.Float64frombits(math.Float64bits((math.Floor(random.Float64()*1e12)+0.5)*math.Pow10(random.IntN(12)-11)) + uint64(random.IntN(5)) - 2)
		}
		got, err := Number(nil, x)
		text := strconv.FormatFloat(x, 'e', significant-1, 64)
		want, _ := strconv.ParseFloat(text, 64)
		if back, _ := strconv.ParseFloat(string(got), 64); err != nil || back != want {
			t.Fatalf("Number(%v) = %s, %v, want %s", x, got, err, text)
		}
	}
}

type embedded struct {
	A int `json:"a"`
	B string
}

type odd struct {
	embedded
	*time.Location
	B       string           `json:"b,omitempty"`
	C       *odd             `json:"c,omitempty"`
	D       map[string]any   `json:"d"`
	E       any              `json:"e"`
	F       []byte           `json:"f"`
	G       float64          `json:"g,omitzero"`
	H       time.Time        `json:"h,omitzero"`
	I       [2]bool          `json:"i"`
	J       uint8            `json:"j"`
	K       json.RawMessage  `json:"k,omitempty"`
	L       map[int]string   `json:"l"`
	M       quantity.Reading `json:"m"`
	N       int              `json:"n,string"`
	O       uint16           `json:"o,omitempty"`
	P       uintptr          `json:"p,omitempty"`
	Q       float32          `json:"q,omitempty"`
	Ignored int              `json:"-"`
}

// Whatever can be in an answer is written as encoding/json writes it, except for the digits of its
// numbers.
func TestAsEncodingJSON(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 1))
	for _, of := range []reflect.Type{
		reflect.TypeFor[instrument.Conversion](), reflect.TypeFor[instrument.Calibration](), reflect.TypeFor[mixing.Batch](),
		reflect.TypeFor[transfer.Plan](), reflect.TypeFor[tolerance.Taxon](), reflect.TypeFor[*quantity.Note](),
		reflect.TypeFor[[]quantity.Measure](), reflect.TypeFor[odd](),
	} {
		for range 200 {
			v := reflect.New(of).Elem()
			fill(random, v, 0)
			compare(t, v.Interface())
		}
	}
	compare(t, nil)
	compare(t, "a <b> & \u2028 \xff \" \\ \x01 °C")
	compare(t, map[string]float64{"b": 1.0000000000000002, "a": 0})
}

// halfDone is a text that cannot always be written.
type halfDone struct{}

func (halfDone) MarshalText() ([]byte, error) { return nil, errors.New("not written yet") }

// What cannot be written as text is an error, not an input that is left out or changed.
func TestInputsOfWhatCannotBeWritten(t *testing.T) {
	if got, err := Inputs(nil, struct {
		A halfDone `json:"a"`
	}{}); err == nil {
		t.Errorf("Inputs = %s, want an error", got)
	}
}

// compare checks what JSON writes of v against encoding/json.
func compare(t *testing.T, v any) {
	t.Helper()
	want, wantErr := json.Marshal(v)
	got, err := JSON(nil, v)
	if (err == nil) != (wantErr == nil) {
		t.Fatalf("JSON(%T): %v, encoding/json: %v", v, err, wantErr)
	}
	if err != nil {
		return
	}
	want, err = rounded(nil, want)
	if again, errAgain := rounded(nil, got); err != nil || errAgain != nil || !bytes.Equal(again, want) {
		t.Fatalf("JSON(%T) =\n%s\nencoding/json has\n%s", v, got, want)
	}
}

// fill puts random values everywhere in v.
func fill(random *rand.Rand, v reflect.Value, depth int) {
	if !v.CanSet() {
		return
	}
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(random.IntN(2) == 0)
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(random.IntN(5)))
	case reflect.Float64:
		if random.IntN(4) > 0 {
			v.SetFloat(random.NormFloat64() * math.Pow(10, float64(random.IntN(12)-4)))
		}
	case reflect.Uint8, reflect.Uint16, reflect.Uintptr:
		v.SetUint(uint64(random.IntN(3)))
	case reflect.Float32:
		v.SetFloat(float64(random.IntN(3)))
	case reflect.String:
		v.SetString([]string{"", "ppt", "25 °C", "a<b", "née\n"}[random.IntN(5)])
	case reflect.Pointer:
		if random.IntN(3) > 0 && depth < 6 {
			v.Set(reflect.New(v.Type().Elem()))
			fill(random, v.Elem(), depth+1)
		}
	case reflect.Slice:
		if n := random.IntN(4); n > 0 && depth < 6 && v.Type() != reflect.TypeFor[json.RawMessage]() {
			v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
			for i := range v.Len() {
				fill(random, v.Index(i), depth+1)
			}
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(time.Unix(int64(random.IntN(1e9)), 0).UTC()))
			return
		}
		for i := range v.NumField() {
			fill(random, v.Field(i), depth+1)
		}
	}
}
