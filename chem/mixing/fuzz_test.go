package mixing

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"saltlock/chem/quantity"
)

// Whatever is written as a portion is refused with a reason or prints as it is parsed.
func FuzzPortion(f *testing.F) {
	for _, seed := range []string{"10 L, 35 ppt, 25 C, 8 dKH", "25C,1.010(1) SG 60F/60F,10L", "5 g/kg", ",", "3 ppt,", "1,5 L, 3 ppt", "3 gal,50 mS/cm"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var p, again Portion
		if err := p.Bind(text); err != nil {
			if _, ok := errors.AsType[*quantity.ParseError](err); !ok {
				t.Errorf("Portion %q: %v is no ParseError", text, err)
			}
			return
		}
		if err := again.Bind(p.String()); err != nil || again.String() != p.String() {
			t.Errorf("Portion %q prints as %q, which is taken as %q, %v", text, p, again, err)
		}
	})
}

// scalesOf are the scales that a fuzzed reading may have.
var scalesOf = []quantity.Scale{quantity.PracticalScale, quantity.AbsoluteScale, quantity.PerLitreScale, quantity.SpecificGravityScale,
	quantity.ConductivityScale, quantity.OsmolalityScale, quantity.DensityScale}

// Whatever is asked of a mix, the answer is finite, or an input is blamed.
func FuzzMixes(f *testing.F) {
	f.Add(35., 1., uint8(0), 100., 3., 0.2, 0., uint8(0), 0.15, 25., 1., 10., 40.)
	f.Add(1.010, 0.001, uint8(3), 20., 0., 20., 1., uint8(4), 0., 20., 0., 0.5, 0.1)
	f.Add(0., 0., uint8(1), 1e9, 1e60, 120., 0., uint8(1), 0.6, 0., 1e9, 1e9, 1e4)
	f.Add(10., 1e30, uint8(2), 1., 1e60, 300., 9., uint8(5), 0.1, 40., 1e40, 1e-3, 1.)
	f.Add(1030., 5., uint8(6), 200., 0., 1.020, 0.01, uint8(3), 0.3, 12., 0.5, 60., 30.)
	f.Fuzz(func(t *testing.T, one, oneU float64, oneScale uint8, volume, volumeU, other, otherU float64, otherScale uint8, share, temperature, temperatureU, change, length float64) {
		for _, x := range []float64{one, oneU, volume, volumeU, other, otherU, share, temperature, temperatureU, change, length} {
			if !(math.Abs(x) <= 1e100) {
				return // no parser lets it pass
			}
		}
		a := &quantity.Reading{Value: one, U: math.Abs(oneU), Scale: scalesOf[int(oneScale)%len(scalesOf)]}
		b := &quantity.Reading{Value: other, U: math.Abs(otherU), Scale: scalesOf[int(otherScale)%len(scalesOf)]}
		v, c := new(quantity.Of[quantity.Volume](volume, math.Abs(volumeU))), new(quantity.Of[quantity.Volume](change, 0))
		s, l := new(quantity.Of[quantity.Fraction](share, 0)), new(quantity.Of[quantity.Length](length, math.Abs(volumeU)))
		at := new(quantity.Of[quantity.Celsius](temperature, math.Abs(temperatureU)))
		_, err := finite(Salt(SaltRequest{Target: *a, Volume: v, Source: b, ProductWaterContent: s, Temperature: at}))
		sound(t, "Salt", err)
		_, err = finite(Salt(SaltRequest{Target: *a, Shape: new(Bucket), Height: l, TopDiameter: l, BottomDiameter: l, Glass: l,
			CalibrationBatchSalt: new(quantity.Of[quantity.Mass](0.04, 0.001)), CalibrationBatchWater: c, CalibrationBatchReading: b}))
		sound(t, "Salt in a bucket", err)
		_, err = finite(BlendWaters(BlendRequest{Water: []Portion{{Volume: v, Salinity: *a, Temperature: at}, {Volume: c, Salinity: *b}}}))
		sound(t, "BlendWaters", err)
		_, err = finite(BlendWaters(BlendRequest{Water: []Portion{{Volume: v, Salinity: *a, Temperature: at}, {Salinity: *b}}, Target: a}))
		sound(t, "BlendWaters to a target", err)
		_, err = finite(Change(WaterChangeRequest{Volume: *v, Salinity: *a, Target: b, Change: c, GreatestShare: s, Temperature: at}))
		sound(t, "Change", err)
		_, err = finite(Change(WaterChangeRequest{Volume: *v, Salinity: *a, NewWater: b, Change: c, GreatestShare: s}))
		sound(t, "Change with new water", err)
		_, err = finite(TopOffTank(TopOffRequest{Volume: *v, Salinity: *a, Missing: c, TopOffWater: b, Temperature: at}))
		sound(t, "TopOffTank", err)
		_, err = finite(TopOffTank(TopOffRequest{Volume: *v, Salinity: *a, EvaporationPerDay: c, TopOffWater: b}))
		sound(t, "TopOffTank for a week", err)
		_, err = finite(NetVolume(VesselRequest{Shape: BowFront, Length: l, Width: l, MiddleWidth: l, Height: l, SandDepth: l, SandPorosity: s}))
		sound(t, "NetVolume", err)
	})
}

var errInfinite = errors.New("an answer is not finite")

// finite refuses an answer that holds a NaN or an infinity anywhere.
func finite[T any](answer T, err error) (T, error) {
	if err == nil && !finiteValue(reflect.ValueOf(answer)) {
		err = errInfinite
	}
	return answer, err
}

func finiteValue(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Pointer, reflect.Interface:
		return v.IsNil() || finiteValue(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			if !finiteValue(v.Field(i)) {
				return false
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if !finiteValue(v.Index(i)) {
				return false
			}
		}
	}
	return true
}

func sound(t *testing.T, name string, err error) {
	t.Helper()
	if err != nil && faultOf(err) == "" {
		t.Errorf("%s: %v blames no input", name, err)
	}
}
