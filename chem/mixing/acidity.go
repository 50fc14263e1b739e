package mixing

import (
	"errors"
	"math"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// acidityKnown reports whether every water has a pH, which also requires an alkalinity.
func (r BlendRequest) acidityKnown() bool {
	for _, w := range r.Water {
		if w.PH == nil {
			return false
		}
	}
	return true
}

// checkAcidity refuses a pH that cannot be used.
func (r BlendRequest) checkAcidity() error {
	var faults []error
	for _, w := range r.Water {
		switch {
		case w.PH == nil && w.Alkalinity == nil:
			continue
		case w.PH != nil && w.Alkalinity == nil:
			faults = append(faults, &instrument.MissingError{Name: "water", Why: "a pH mixes only by way of the alkalinity: give that too, as in 8 dKH", Note: quantity.Note{Code: "ph_needs_alkalinity"}})
		}
		faults = append(faults, check(acidities, "water", w.PH), check(alkalinities, "water", w.Alkalinity))
	}
	return errors.Join(faults...)
}

var (
	acidities    = quantity.Range[quantity.PH]{Lo: 5, Hi: 10}
	alkalinities = quantity.Range[quantity.Alkalinity]{Lo: 0, Hi: 20}
)

// acidity is the joint function of a blend's pH, in a closed vessel and in air. Salt,
// alkalinity and inorganic carbon mix by mass; the pH follows from them.
type acidity struct{ closed, inAir float64 }

// addAcidity estimates the pH of the blend if that of every water is known.
//
// Standing: an estimate, ±0.2; test kits, unknown carbon dioxide and the scale of the pH
// each contribute more than the constants [Millero2010].
func (b *Blend) addAcidity(r BlendRequest, e *estimates[blend]) {
	if !r.acidityKnown() {
		return
	}
	a := &estimates[acidity]{joint: e.joint, of: func(x []float64) (acidity, error) {
		k, err := e.of(x)
		if err != nil {
			return acidity{}, err
		}
		return k.acidity()
	}}
	if _, err := a.of(a.nominal); err != nil {
		b.Warnings = append(b.Warnings, note("ph_cannot_be_found"))
		return
	}
	b.PH = new(rough(estimate[quantity.PH](a, func(k acidity) float64 { return k.closed })))
	b.PHInAir = new(rough(estimate[quantity.PH](a, func(k acidity) float64 { return k.inAir })))
	if a.err != nil {
		b.PH, b.PHInAir = nil, nil
		b.Warnings = append(b.Warnings, note("ph_cannot_be_found"))
		return
	}
	b.Warnings = append(b.Warnings, note("ph_is_an_estimate"))
	b.Methods = append(b.Methods, seawater.CarbonateMethod)
}

// rough adds the uncertainty of estimating a pH in this way.
func rough(ph quantity.Estimate[quantity.PH]) quantity.Estimate[quantity.PH] {
	ph.U = quantity.PH(math.Hypot(float64(ph.U), float64(seawater.BlendPHFit)))
	return ph
}

// acidity mixes alkalinity and inorganic carbon, in µmol/kg.
func (k blend) acidity() (acidity, error) {
	var bases, carbon float64
	for _, p := range k.parts {
		perKilogram := p.alkalinity * 1000 * p.volume / p.mass
		c, err := seawater.InorganicCarbon(quantity.PH(p.ph), perKilogram, quantity.Salinity(p.sa/quantity.GramsPerPractical), quantity.Celsius(p.t), seawater.NBSScale)
		if err != nil {
			return acidity{}, err
		}
		bases += perKilogram * p.mass / k.mass
		carbon += c * p.mass / k.mass
	}
	sp, t := quantity.Salinity(k.sa/quantity.GramsPerPractical), quantity.Celsius(k.t)
	closed, noClosed := seawater.PHFromCarbon(bases, carbon, sp, t, seawater.NBSScale)
	open, noOpen := seawater.PHInAir(bases, sp, t, seawater.NBSScale)
	return acidity{float64(closed), float64(open)}, errors.Join(noClosed, noOpen)
}
