package instrument

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// Pitfall is the error from one common mistake in each of the waters of PitfallWaters: the
// salinity that the keeper believes minus the true one. The unit is that of the mistake:
// practical salinity, g/kg or, for TDS meters, g/L.
type Pitfall struct {
	Mistake quantity.Note
	Errors  [4]quantity.Measure // in the order of PitfallWaters
}

// PitfallWaters returns the waters for which mistakes are computed: 1.005, 1.010 and 1.020
// SG 25C/25C, and 35 g/kg.
func PitfallWaters() ([4]quantity.AbsoluteSalinity, error) {
	waters := [4]quantity.AbsoluteSalinity{3: 35}
	for i, sg := range []float64{1.005, 1.010, 1.020} {
		sa, err := AbsoluteSalinity(quantity.Reading{Value: sg, Scale: quantity.SpecificGravityScale}, nil, Setup{})
		if err != nil {
			return waters, err
		}
		waters[i] = sa
	}
	return waters, nil
}

// mistake is one way to get the salinity of a water wrong.
type mistake struct {
	note      quantity.Note
	practical bool
	loss      func(quantity.AbsoluteSalinity) (float64, string, error)
}

// Pitfalls computes every mistake by the formulas that correct it.
//
// Check value: a hydrometer for 60F/60F read at 25 °C in 13.35 g/kg without
// correction loses 2.56 g/kg (computed with TEOS-10 density).
//
// Source: the formulas of this package for each instrument, against its uncorrected reading.
func Pitfalls() ([]Pitfall, error) {
	waters, err := PitfallWaters()
	if err != nil {
		return nil, err
	}
	var all []Pitfall
	for _, m := range mistakes() {
		p := Pitfall{Mistake: m.note}
		for i, sa := range waters {
			lost, unit, no := m.loss(sa)
			err = errors.Join(err, no)
			if m.practical {
				lost, unit = lost/quantity.GramsPerPractical, string(quantity.PracticalScale)
			}
			p.Errors[i] = quantity.Measure{Value: lost, Unit: unit}
		}
		all = append(all, p)
	}
	return all, err
}

// mistakes lists common mistakes, the worst of each kind first.
func mistakes() []mistake {
	sixty := Setup{Kind: new(Hydrometer), Calibration: &quantity.Convention{Sample: sixtyF, Water: sixtyF}}
	usual := Setup{Kind: new(Hydrometer)}
	bare := Setup{Kind: new(Refractometer), TemperatureCompensated: new(false)}
	compensating := Setup{Kind: new(Refractometer)}
	nacl := Setup{Kind: new(Refractometer), Scale: new(SodiumChlorideScale)}
	meter := func(coefficient float64) Setup {
		return Setup{Kind: new(ConductivityMeter), Compensation: &Compensation{Curve: Linear, Coefficient: coefficient, Reference: 25}}
	}
	tds := func(factor float64) Setup { return Setup{Kind: new(TDSMeter), TdsFactor: &factor} }
	at := func(t quantity.Celsius) quantity.Estimate[quantity.Celsius] { return quantity.Exactly(t) }
	return []mistake{
		{note("pitfall_gravity_as_density"), false, gravityTaken(quantity.Reading{Scale: quantity.DensityScale}, 1000, Setup{})},
		{note("pitfall_hydrometer", "60F/60F", at(25)), false, trusted(sixty, 25)},
		{note("pitfall_hydrometer", "60F/60F", at(28)), false, trusted(sixty, 28)},
		{note("pitfall_hydrometer", "25C/25C", at(20)), false, trusted(usual, 20)},
		{note("pitfall_hydrometer", "25C/25C", at(28)), false, trusted(usual, 28)},
		{note("pitfall_other_table", "25C/25C", "60F/60F"), false, gravityTaken(quantity.Reading{Scale: quantity.SpecificGravityScale}, 1, Setup{Calibration: sixty.Calibration})},
		{note("pitfall_no_compensation", at(25)), true, trusted(bare, 25)},
		{note("pitfall_no_compensation", at(30)), true, trusted(bare, 30)},
		{note("pitfall_water_compensation", at(10)), true, trusted(compensating, 10)},
		{note("pitfall_water_compensation", at(30)), true, trusted(compensating, 30)},
		{note("pitfall_nacl_scale"), false, trusted(nacl, drawnAt)},
		{note("pitfall_coefficient", "2.0 %/C", at(15)), true, trusted(meter(0.020), 15)},
		{note("pitfall_coefficient", "2.1 %/C", at(15)), true, trusted(meter(0.021), 15)},
		{note("pitfall_tds", "0.5"), false, trusted(tds(0.5), standIn)},
		{note("pitfall_tds", "0.64"), false, trusted(tds(0.64), standIn)},
		{note("pitfall_tds", "0.7"), false, trusted(tds(0.7), standIn)},
		{note("pitfall_per_litre"), false, func(sa quantity.AbsoluteSalinity) (float64, string, error) {
			per, err := seawater.SaltPerLitre(sa, standIn)
			return float64(per) - float64(sa), sa.Unit(), err
		}},
		{note("pitfall_practical"), false, func(sa quantity.AbsoluteSalinity) (float64, string, error) {
			sp, err := seawater.Salinity(sa)
			return float64(sp) - float64(sa), sa.Unit(), err
		}},
	}
}

// trusted is the mistake of believing what an instrument shows at t. For a TDS meter both
// values are per litre.
func trusted(set Setup, t quantity.Celsius) func(quantity.AbsoluteSalinity) (float64, string, error) {
	return func(sa quantity.AbsoluteSalinity) (float64, string, error) {
		r, noShow := Show(sa, t, set)
		of, noSensor := set.sensor(r)
		if err := errors.Join(noShow, noSensor); err != nil {
			return 0, "", err
		}
		if set.kind() == TDSMeter {
			per, err := seawater.SaltPerLitre(sa, standIn)
			return r.Value - float64(per), per.Unit(), err
		}
		believed, err := of.believed(r.Value)
		return float64(believed - sa), sa.Unit(), err
	}
}

// gravityTaken is the mistake of reading a specific gravity 25C/25C as another measure at 25 °C.
func gravityTaken(r quantity.Reading, factor float64, set Setup) func(quantity.AbsoluteSalinity) (float64, string, error) {
	return func(sa quantity.AbsoluteSalinity) (float64, string, error) {
		sg, err := seawater.SpecificGravity(sa, Setup{}.usual())
		if err != nil {
			return 0, "", err
		}
		r.Value = float64(sg) * factor
		t := standIn
		believed, err := AbsoluteSalinity(r, &t, set)
		return float64(believed - sa), sa.Unit(), err
	}
}
