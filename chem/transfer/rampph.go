package transfer

import (
	"errors"

	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// phSteps is how many steps the table of a ramp's pH has. Straight lines between them are off by
// less than 0.001, except at the start of a soft acid water.
const phSteps = 256

// rampPH returns the pH of the tank at a salinity on the way to the new water; nil unless pH and
// alkalinity of both waters are known.
//
// Alkalinity and inorganic carbon mix as salt does. What the tank then exchanges with the air
// takes days, so one change is judged as in a closed water.
func (t *task) rampPH() (func(salinity float64) float64, error) {
	f, to := t.request.From, t.request.To
	if f.PH == nil || f.Alkalinity == nil || to.PH == nil || to.Alkalinity == nil || t.gap == 0 {
		return nil, nil
	}
	bases, carbon, noFrom := carbonOf(f, t.from)
	newBases, newCarbon, noTo := carbonOf(to, t.to)
	if err := errors.Join(noFrom, noTo); err != nil {
		return nil, err
	}
	var table [phSteps + 1]float64
	for i := range table {
		part := float64(i) / phSteps
		sp := practical(t.from.sa + part*(t.to.sa-t.from.sa)).Value
		ph, err := seawater.PHFromCarbon(bases+part*(newBases-bases), carbon+part*(newCarbon-carbon), sp, quantity.Celsius(t.from.t), seawater.NBSScale)
		if err != nil {
			return nil, err
		}
		table[i] = float64(ph)
	}
	return func(salinity float64) float64 {
		x := min(max((salinity-t.from.sa)/(t.to.sa-t.from.sa)*phSteps, 0), phSteps)
		i := min(int(x), phSteps-1)
		return table[i] + (x-float64(i))*(table[i+1]-table[i])
	}, nil
}

// carbonOf returns alkalinity and inorganic carbon of a water, µmol/kg.
func carbonOf(w Water, s state) (bases, carbon float64, err error) {
	rho, err := density(s)
	if err != nil {
		return 0, 0, err
	}
	bases = float64(w.Alkalinity.Value) * 1000 / rho
	carbon, err = seawater.InorganicCarbon(w.PH.Value, bases, practical(s.sa).Value, quantity.Celsius(s.t), seawater.NBSScale)
	return bases, max(0, carbon), err
}
