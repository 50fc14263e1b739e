package render

import (
	"strings"
	"testing"

	"golang.org/x/text/language"

	"saltlock/chem/quantity"
)

// What is offered is rounded so that it will do: "or more" up, "or less" down, in both units.
func TestOffersAreRoundedToTheSafeSide(t *testing.T) {
	for _, c := range []struct {
		code quantity.Code
		of   quantity.Measure
		says string
	}{
		{"needs_more_water", quantity.Measure{Value: 1.912, Unit: "L"}, "2 L (0.51 gal)"},
		{"needs_more_water", quantity.Measure{Value: 1.9, Unit: "L"}, "1.9 L (0.51 gal)"},
		{"needs_larger_container", quantity.Measure{Value: 10.01, Unit: "L"}, "10.1 L (2.7 gal)"},
		{"needs_smaller_drop", quantity.Measure{Value: 0.0000689, Unit: "L"}, "0.068 mL"},
		{"needs_slower_drip", quantity.Measure{Value: 1.76 / 60, Unit: "drops/s"}, "1 drop a minute"},
	} {
		if got := (Voice{}).Say(c.code, c.of); !strings.Contains(got, c.says) {
			t.Errorf("%g %s: %q, want %q in it", c.of.Value, c.of.Unit, got, c.says)
		}
	}
}

func TestQuantity(t *testing.T) {
	of := func(v float64, unit string, u float64) quantity.Measure {
		return quantity.Measure{Value: v, Unit: unit, Uncertainty: u}
	}
	for _, c := range []struct {
		voice Voice
		in    quantity.Measure
		want  string
	}{
		{Voice{}, of(450, "L", 0), "450 L (119 gal)"},
		{Voice{Units: Metric}, of(3.59859, "kg", 0), "3.6 kg"},
		{Voice{Units: US}, of(0.25, "kg", 0), "8.8 oz"},
		{Voice{Units: Metric}, of(0.00005, "L", 0), "0.05 mL"},
		{Voice{}, of(25, "°C", 0), "25 °C (77 °F)"},
		{Voice{}, of(-0.5, "°C", 0), "-0.5 °C (31 °F)"},
		{Voice{}, of(13.2889, "ppt", 0.6), "13.3 ± 0.6 ppt"},
		{Voice{}, of(13.2889, "ppt", 1.33), "13.3 ± 1.3 ppt"},
		{Voice{}, of(132.889, "ppt", 15), "133 ± 15 ppt"},
		{Voice{}, of(0.2009, "g/kg", 0), "0.2 g/kg"},
		{Voice{Comma: true}, of(13.2889, "ppt", 0.6), "13,3 ± 0,6 ppt"},
		{Voice{}, of(1.01, "SG", 0), "1.010 SG"},
		{Voice{}, of(1.00754, "SG", 0.0005), "1.0075 ± 0.0005 SG"},
		{Voice{}, of(0.15, "1", 0), "15 %"},
		{Voice{}, of(0.4, "drops/s", 0), "24 drops a minute"},
		{Voice{}, of(0.5, "h", 0), "30 min"},
		{Voice{}, of(5.6523, "h", 0), "5 h 40 min"},
		{Voice{}, of(24, "h", 0), "24 h"},
		{Voice{}, of(168, "h", 0), "7 days"},
		{Voice{}, of(56.27, "h", 0), "2 days 8 h"},
		{Voice{}, of(24.08, "h", 0), "24 h"},
		{Voice{lean: down}, of(1.48, "h", 0), "1 h 25 min"},
		{Voice{lean: up}, of(1.48, "h", 0), "1 h 30 min"},
		{Voice{}, of(30*24+5, "h", 0), "30 days"},
		{Voice{}, of(48, "h", 0), "2 days"},
		{Voice{}, of(1./60, "drops/s", 0), "1 drop a minute"},
		{Voice{Comma: true}, of(1.5, "drops/s", 0), "1,5 drops a second"},
		{Voice{}, of(0.6, "cm", 0), "6 mm (0.24 in)"},
		{Voice{}, of(4, "K", 0), "4 °C (7 °F)"},
		{Voice{Units: US}, of(1, "K/h", 0), "1.8 °F an hour"},
		{Voice{}, of(8.6, "pH", 0), "pH 8.6"},
		{Voice{Units: Metric}, of(424.3, "kg", 6.4), "424 kg"},
		{Voice{}, of(0, "L", 0), "0 mL (0 fl oz)"},
	} {
		if got := c.voice.Quantity(c.in); got != c.want {
			t.Errorf("%+v.Quantity(%v) = %q, want %q", c.voice, c.in, got, c.want)
		}
	}
}

func TestReading(t *testing.T) {
	for want, in := range map[string]quantity.Reading{
		"1.010 SG":         {Value: 1.0101, Scale: quantity.SpecificGravityScale},
		"1.0105 SG":        {Value: 1.0104, Scale: quantity.SpecificGravityScale},
		"1.026 SG 25C/25C": {Value: 1.026, Scale: quantity.SpecificGravityScale, Convention: &quantity.Convention{Sample: 25, Water: 25}},
		"13.3 ppt":         {Value: 13.2889, Scale: quantity.PracticalScale},
	} {
		if got := (Voice{}).Reading(in); got != want {
			t.Errorf("Reading(%v) = %q, want %q", in, got, want)
		}
	}
}

type cell struct {
	Name  string                             `json:"name"`
	Water quantity.Estimate[quantity.Volume] `json:"water"`
	Salt  *quantity.Estimate[quantity.Mass]  `json:"salt,omitempty"`
	Note  quantity.Note                      `json:"note"`
	Inner struct {
		Share quantity.Estimate[quantity.Fraction] `json:"share"`
	} `json:"inner"`
}

func TestTable(t *testing.T) {
	rows := []cell{
		{Name: "=SUM(A1)", Water: quantity.Of[quantity.Volume](100, 0.5)},
		{Name: `say "hi", twice`, Water: quantity.Of[quantity.Volume](3.785411784, 0), Salt: new(quantity.Of[quantity.Mass](0.1234567, 0))},
	}
	for _, c := range []struct {
		voice     Voice
		separator rune
		want      string
	}{
		{Voice{}, ',', "name,water [L],water_uncertainty [L],salt [kg],inner_share\r\n'=SUM(A1),100.00,0.50,,0\r\n\"say \"\"hi\"\", twice\",3.78541,,0.123457,0\r\n"},
		{Voice{Units: US, Comma: true}, ';', "name;water [gal];water_uncertainty [gal];salt [lb];inner_share\r\n'=SUM(A1);26,42;0,13;;0\r\n\"say \"\"hi\"\", twice\";1;;0,272175;0\r\n"},
	} {
		if out := string(c.voice.Table(rows).AppendCSV(nil, c.separator)); out != c.want {
			t.Errorf("table is\n%q, want\n%q", out, c.want)
		}
	}
}

// A negative number is no formula, nor one with a unit.
func TestHarmless(t *testing.T) {
	for in, want := range map[string]string{"-1.5": "-1.5", "-1,5": "-1,5", "+": "'+", "@x": "'@x", "": "", "x=1": "x=1",
		"+35 ppt": "+35 ppt", "-300 C": "-300 C", "-0 ppt": "-0 ppt", "-2.5 mS/cm": "-2.5 mS/cm", "-1 °C": "-1 °C",
		"-2+3": "'-2+3", "+1 ppt|A": "'+1 ppt|A", "-1 A(2)": "'-1 A(2)", "-": "'-", "=1+1": "'=1+1", "＝1+1": "'＝1+1", "＋1": "'＋1",
		" =1": "' =1", "\u00a0@x": "'\u00a0@x", "\ufeff=1": "'\ufeff=1", " -1 ppt": " -1 ppt", "\tx": "'\tx", "\r-1": "'\r-1", " ": " "} {
		if got := harmless(in); got != want {
			t.Errorf("harmless(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestSay(t *testing.T) {
	got := Voice{}.Say("salt_measure", quantity.Of[quantity.Salinity](10, 0))
	if want := "Measure; it should read 10 ppt."; got != want {
		t.Errorf("Say = %q, want %q", got, want)
	}
}

func BenchmarkTable(b *testing.B) {
	rows := []cell{{Name: "a", Water: quantity.Of[quantity.Volume](100, 0.5)}}
	for b.Loop() {
		Voice{}.Table(rows)
	}
}

func BenchmarkSay(b *testing.B) {
	for b.Loop() {
		Voice{}.Say("salt_measure", quantity.Of[quantity.Salinity](10, 0))
	}
}

// A plural is chosen by the rules of the language, a number that is spelled out by its value.
func TestPlurals(t *testing.T) {
	c, err := compile(map[language.Tag]sentences{language.English: {
		"times": "100 % full {0, plural, =1 {once} =2 {twice} other {# times in {1}}}; {0, plural, one {# day} other {# days}}",
	}})
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int]string{0: "0 times in 2 L; 0 days", 1: "once; 1 day", 2: "twice; 2 days", 1200: "1200 times in 2 L; 1200 days"} {
		got := string(Voice{Units: Metric}.appendSaid(nil, language.English, c[language.English]["times"], []any{n, quantity.Exactly(quantity.Volume(2))}))
		if got != "100 % full "+want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}

// A sentence that is written wrongly is found before anybody asks for it.
func TestMalformedSentences(t *testing.T) {
	for _, wrong := range []string{"{0", "0}", "{x}", "{0, colour}", "{0, plural, =1 {once}}", "{0, plural, many {#} other {#}}", "{-1}"} {
		if _, err := compile(map[language.Tag]sentences{language.English: {"wrong": wrong}}); err == nil {
			t.Errorf("%q is taken", wrong)
		}
	}
	for _, wrong := range []string{"{1}", "{0} {0, name}", "{0} {2}"} {
		if kinds, err := signature(wrong); err == nil {
			t.Errorf("%q speaks of %v", wrong, kinds)
		}
	}
}

// The unit of a range is said once.
func TestRange(t *testing.T) {
	of := func(v float64, unit string) quantity.Measure { return quantity.Measure{Value: v, Unit: unit} }
	for want, in := range map[string][2]quantity.Measure{
		"24 to 28 °C (75 to 82 °F)":          {of(24, "°C"), of(28, "°C")},
		"0 to 35 g/kg":                       {of(0, "g/kg"), of(35, "g/kg")},
		"0 to 2 L (0 to 0.53 gal)":           {of(0, "L"), of(2, "L")},
		"50 mL to 2 L (2 fl oz to 0.53 gal)": {of(0.05, "L"), of(2, "L")},
		"6 mm to 1.8 cm (0.24 to 0.71 in)":   {of(0.6, "cm"), of(1.8, "cm")},
		"2 h to 3 h":                         {of(2, "h"), of(3, "h")},
		"pH 7 to pH 8":                       {of(7, "pH"), of(8, "pH")},
	} {
		if got := (Voice{}).span(in[0], in[1]); got != want {
			t.Errorf("%v: %q, want %q", in, got, want)
		}
	}
}

// A note that an older version stored is worded again only where its code still speaks of the same.
func TestStoredNotes(t *testing.T) {
	gallon := quantity.Measure{Value: 3.785411784, Unit: "L"}
	for _, c := range []struct {
		note quantity.Note
		want string
	}{
		{quantity.Note{Code: "pour_off", Params: []any{gallon, gallon}, Told: "then"}, "Pour off 1 gal, so that 1 gal stay in the container."},
		{quantity.Note{Code: "pour_off", Params: []any{gallon}, Told: "then"}, "then"},
		{quantity.Note{Code: "pour_off", Params: []any{gallon, "a bit"}, Told: "then"}, "then"},
		{quantity.Note{Code: quantity.Code("gone"), Told: "then"}, "then"},
	} {
		Voice{Units: US}.Fill([]*quantity.Note{&c.note})
		if c.note.Text != c.want {
			t.Errorf("%v of %v is %q, want %q", c.note.Code, c.note.Params, c.note.Text, c.want)
		}
	}
}

// Each unit of the tables that is written as words is found in its language.
func TestUnitWords(t *testing.T) {
	for tag, units := range unitWords {
		for unit := range units {
			if (Voice{Language: tag}).unitWords(unit) == nil {
				t.Errorf("%s has no words in %s", unit, tag)
			}
		}
	}
}
