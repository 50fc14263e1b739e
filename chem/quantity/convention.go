package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Convention is the pair of temperatures of a specific gravity: the sample's over the pure
// water's, printed "25C/25C".
type Convention struct {
	Sample, Water Celsius
}

// String prints the convention so that it can be parsed again.
func (c Convention) String() string {
	for i := range inUse {
		if inUse[i].convention == c {
			return inUse[i].written
		}
	}
	return c.written()
}

func (c Convention) written() string { return marked(c.Sample) + "/" + marked(c.Water) }

// inUse are the conventions that every conversion lists, as they are written.
var inUse = writtenAll(Convention{sixtyF, sixtyF}, Convention{15, 15}, Convention{15, 4}, Convention{20, 20}, Convention{20, 4}, Convention{25, 25}, Convention{25, 4})

const sixtyF = Celsius((60. - 32) * 5 / 9)

type writtenConvention struct {
	convention Convention
	written    string
}

func writtenAll(conventions ...Convention) []writtenConvention {
	var all []writtenConvention
	for _, c := range conventions {
		all = append(all, writtenConvention{c, c.written()})
	}
	return all
}

// marked prints a temperature with the letter of its scale, in Fahrenheit if that is shorter
// and parses to the same float64.
func marked(t Celsius) string {
	celsius := shortest(float64(t)) + "C"
	f := math.Round((float64(t)*9/5+32)*1e6) / 1e6
	if fahrenheit := shortest(f) + "F"; len(fahrenheit) < len(celsius) && Celsius((f-32)*5/9) == t {
		return fahrenheit
	}
	return celsius
}

// MarshalText is String for a convention that is finite.
func (c Convention) MarshalText() ([]byte, error) { return c.AppendText(nil) }

// AppendText is MarshalText that appends.
func (c Convention) AppendText(b []byte) ([]byte, error) {
	if err := finite(float64(c.Sample), float64(c.Water)); err != nil {
		return b, err
	}
	return append(b, c.String()...), nil
}

// UnmarshalText parses two temperatures, each with its letter: "60F/60F", "20C/4C".
func (c *Convention) UnmarshalText(text []byte) error {
	s := string(text)
	sample, water, ok := strings.Cut(s, "/")
	if !ok {
		return temperature.parseError(s, fmt.Errorf("a convention is the sample's temperature over the pure water's, as in 25C/25C"))
	}
	var pair [2]float64
	for i, half := range []string{sample, water} {
		t, u, unit, err := split(half)
		if err == nil && unit == "" {
			err = fmt.Errorf("%s has no letter; write each temperature with its own, as in 15C/4C", strings.TrimSpace(half))
		}
		if err == nil && u != 0 {
			err = fmt.Errorf("the temperatures of a convention are exact")
		}
		if err == nil {
			pair[i], _, err = temperature.fixed(t, 0, unit)
		}
		if err != nil {
			return temperature.parseError(s, err)
		}
	}
	*c = Convention{Celsius(pair[0]), Celsius(pair[1])}
	return nil
}

// Bind parses a query parameter.
func (c *Convention) Bind(s string) error { return c.UnmarshalText([]byte(s)) }
