package instrument

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

var draws = flag.Int("draws", 3000, "readings for which the measures at once are held to each by itself")

// byParts converts a reading the long way: quantity.Propagate over the joint
// function of each measure by itself.
type byParts struct {
	*measurement
	a answers
}

func part[Q quantity.Quantity](p *byParts, s slot, fit Q, f func(water) (Q, error)) *quantity.Estimate[Q] {
	e, _, err := quantity.Propagate[Q](func(x []float64) (float64, error) {
		w, err := p.joint(x)
		if err != nil {
			return 0, err
		}
		q, err := f(w)
		return float64(q), err
	}, float64(fit), p.inputs()...)
	if err != nil {
		p.a.fail(s, err)
		return nil
	}
	p.a.in |= 1 << s
	return &e
}

// convertByParts is convert by parts.
func convertByParts(r quantity.Reading, t *quantity.Estimate[quantity.Celsius], set Setup) (Conversion, error) {
	m, err := measure(r, temperature(r, t, set), set)
	if err != nil {
		return Conversion{}, err
	}
	sa, dominant, err := m.absolute()
	if err != nil {
		return Conversion{}, err
	}
	sp, err := seawater.Salinity(sa.Value)
	p := &byParts{measurement: m}
	c := p.measures(sa)
	c.Zone, _ = seawater.ZoneOf(sp)
	c.Temperature, c.Dominant = m.temperature, dominant
	c.Corrections = m.corrections(sa.Value)
	c.Warnings, c.Assumptions = m.remarks(&p.a, sp), m.assumptions(t == nil, set)
	c.Methods = m.keys(&p.a, sp)
	c.interpret(r, t, set, AllMeasures)
	return c, err
}

func (p *byParts) measures(sa quantity.Estimate[quantity.AbsoluteSalinity]) Conversion {
	at := p.temperature.Value
	c := Conversion{
		AbsoluteSalinity: &sa,
		SpecificGravity:  []ConventionGravity{},
		PracticalSalinity: part(p, practicalSalinity, 0,
			func(w water) (quantity.Salinity, error) { return w.sp, nil }),
		SaltPerLitre: part(p, saltPerLitre, seawater.SaltPerLitreFit,
			func(w water) (quantity.SaltPerLitre, error) { return seawater.SaltPerLitre(w.sa, w.t) }),
		Density: part(p, density, seawater.DensityFit,
			func(w water) (quantity.Density, error) { return seawater.Density(w.sa, w.t) }),
		Conductivity: part(p, conductivity, seawater.ConductivityFit,
			func(w water) (quantity.Conductivity, error) { return seawater.Conductivity(w.sp, w.t) }),
		Conductivity25: part(p, conductivity25, seawater.ConductivityFit,
			func(w water) (quantity.Conductivity, error) { return seawater.Conductivity(w.sp, 25) }),
		RefractiveIndex: part(p, refractiveIndex, refractiveIndexFit(at),
			func(w water) (quantity.RefractiveIndex, error) { return seawater.RefractiveIndex(w.sp, w.t) }),
		Chlorinity: part(p, chlorinity, 0,
			func(w water) (quantity.Chlorinity, error) { return seawater.Chlorinity(w.sp) }),
		Osmolality: part(p, osmolality, osmolalityFit(sa.Value),
			func(w water) (quantity.Osmolality, error) { return seawater.Osmolality(w.sa, w.t) }),
		FreezingPoint: part(p, freezingPoint, seawater.FreezingPointFit,
			func(w water) (quantity.Celsius, error) { return seawater.FreezingPoint(w.sp) }),
		OxygenSaturation: part(p, oxygenSaturation, seawater.OxygenSaturationFit,
			func(w water) (quantity.DissolvedOxygen, error) { return seawater.OxygenSaturation(w.sp, w.t, 1) }),
	}
	on := slices.Clone(conventions[:])
	if own := p.setup.Calibration; own != nil && !slices.Contains(on, *own) {
		on = append(on, *own)
	}
	for i, convention := range on {
		e := part(p, firstGravity+slot(i), seawater.SpecificGravityFit,
			func(w water) (quantity.SpecificGravity, error) { return seawater.SpecificGravity(w.sa, convention) })
		if e != nil {
			c.SpecificGravity = append(c.SpecificGravity, ConventionGravity{convention, *e})
		}
	}
	return c
}

// All measures at once are what each is by itself: values to 1e-12, uncertainties to
// 1e-6, and the same is said of them.
func TestMeasuresAtOnce(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	setups := instruments()
	names := slices.Sorted(maps.Keys(setups))
	resolved, refused := 0, 0
	for range *draws {
		set := setups[names[random.IntN(len(names))]]
		r, at := drawn(random, set)
		got, err := convert(r, at, set)
		want, wantErr := convertByParts(r, at, set)
		if err != nil || wantErr != nil {
			refused++
			if err == nil || wantErr == nil || err.Error() != wantErr.Error() {
				t.Fatalf("convert(%v, %v, %+v): %v, by parts %v", r, at, set, err, wantErr)
			}
			continue
		}
		resolved++
		if where := different(reflect.ValueOf(got), reflect.ValueOf(want)); where != "" {
			t.Fatalf("convert(%v, %v, %+v) differs at %s:\n%+v\nby parts\n%+v", r, at, set, where, got, want)
		}
		one := slot(random.IntN(int(slots)))
		only, err := convertTo(r, at, set, 1<<one)
		if missing := beyond(only, got, one); err != nil || missing != "" {
			t.Fatalf("convertTo(%v, %v, %+v, %s): %v, differs at %s", r, at, set, one.name(), err, missing)
		}
	}
	if resolved < *draws/2 || refused < *draws/50 {
		t.Errorf("of %d readings %d were resolved and %d refused; the draws miss one of them", *draws, resolved, refused)
	}
}

// beyond names the first measure in which a conversion to one measure differs from the whole
// conversion, or contains more than that measure and the absolute salinity.
func beyond(only, whole Conversion, one slot) string {
	told, all := reflect.ValueOf(only), reflect.ValueOf(whole)
	for i := range told.NumField() {
		name, _, _ := strings.Cut(told.Type().Field(i).Tag.Get("json"), ",")
		set, isMeasure := MeasureNamed(name)
		if !isMeasure || name == "specific_gravity" {
			continue
		}
		if set.has(one) || set.has(absoluteSalinity) {
			if where := different(told.Field(i), all.Field(i)); where != "" {
				return name + " " + where
			}
		} else if !told.Field(i).IsNil() {
			return name
		}
	}
	return ""
}

// drawn is a reading of the instrument in some water, now and then in none, as exact
// as it may be.
func drawn(random *rand.Rand, set Setup) (quantity.Reading, *quantity.Estimate[quantity.Celsius]) {
	at := quantity.Of[quantity.Celsius](42*random.Float64()-1, 0)
	if random.IntN(2) == 0 {
		at.U = quantity.Celsius(3 * random.Float64())
	}
	sa := quantity.AbsoluteSalinity(122 * math.Pow(random.Float64(), 2))
	r := quantity.Reading{Scale: set.scale()}
	if set.Kind == nil {
		scales := slices.Sorted(maps.Keys(plainSensors))
		r.Scale = scales[random.IntN(len(scales))]
	}
	if of, err := set.sensor(r); err == nil {
		r.Value, _ = of.shown(sa, at.Value) // 0 where that is not in range
	}
	if random.IntN(2) == 0 {
		r.U = math.Abs(r.Value) * math.Pow(10, -1-4*random.Float64())
	}
	if r.Scale == quantity.SpecificGravityScale && set.Calibration == nil && random.IntN(4) == 0 {
		r.Convention = &quantity.Convention{Sample: quantity.Celsius(10 + random.IntN(20)), Water: 4}
	}
	return r, &at
}

// different names the first field in which two answers differ by more than rounding; "" if
// there is none. It is long because it has a case for each kind of value.
func different(got, want reflect.Value) string {
	if got.IsValid() != want.IsValid() || got.IsValid() && got.Type() != want.Type() {
		return "type"
	}
	switch got.Kind() {
	case reflect.Float64:
		if g, w := got.Float(), want.Float(); !(math.Abs(g-w) <= 1e-12*math.Abs(w)) {
			return fmt.Sprintf("%g, want %g", g, w)
		}
	case reflect.Pointer, reflect.Interface:
		if got.IsNil() || want.IsNil() {
			if got.IsNil() != want.IsNil() {
				return "presence"
			}
			return ""
		}
		return different(got.Elem(), want.Elem())
	case reflect.Struct:
		for i := range got.NumField() {
			name := got.Type().Field(i).Name
			if g, w := got.Field(i), want.Field(i); name == "U" && math.Abs(g.Float()-w.Float()) <= 1e-6*w.Float() {
				continue
			}
			if where := different(got.Field(i), want.Field(i)); where != "" {
				return name + " " + where
			}
		}
	case reflect.Slice:
		if got.Len() != want.Len() {
			return "length"
		}
		for i := range got.Len() {
			if where := different(got.Index(i), want.Index(i)); where != "" {
				return where
			}
		}
	default:
		if !got.Equal(want) {
			return fmt.Sprintf("%v, want %v", got, want)
		}
	}
	return ""
}
