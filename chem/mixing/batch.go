package mixing

import (
	"errors"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// batch is the joint function of a salt mix, in g/kg, kg and L.
type batch struct {
	sa, from, perLitre, content   float64
	salt, hydrated, source, final float64
}

// check names every fault that can be found before anything is computed.
func (r *SaltRequest) check() error {
	faults := append(make([]error, 0, 10), // all there can be, on the stack
		check(volumes, "volume", r.Volume),
		check(temperatures, "temperature", r.Temperature),
		check(contents, "product_water_content", r.ProductWaterContent),
		known("target", &r.Target, r.Temperature), known("source", r.Source, r.Temperature), known("calibration_batch_reading", r.CalibrationBatchReading, r.Temperature))
	switch {
	case r.Volume == nil && r.Shape == nil:
		faults = append(faults, &instrument.MissingError{Name: "volume", Why: "give the volume of the finished water, or the shape and size of the vessel", Note: quantity.Note{Code: "volume_or_vessel_needed"}})
	case r.Volume == nil:
		_, err := NetVolume(r.vessel())
		faults = append(faults, err)
	case r.Shape != nil:
		faults = append(faults, &instrument.ConflictError{Name: "volume", Other: "shape", Why: "give a volume or a vessel, not both", Note: quantity.Note{Code: "volume_or_vessel"}})
	}
	if *r.SaltKind == SodiumChloride {
		faults = append(faults, &instrument.ConflictError{Name: "salt_kind", Other: "target",
			Why: "table salt (sodium chloride) alone lacks the calcium, magnesium, potassium and alkalinity that animals of brackish and sea water need. Use a complete sea salt. A bath of fish of fresh water in it is a treatment, which a vet or another fish health professional directs", Note: quantity.Note{Code: "table_salt_alone"}})
	}
	return errors.Join(append(faults, r.checkTrial(), r.unusedVessel())...)
}

// checkTrial checks that a trial batch is complete and that nothing else describes the product.
func (r *SaltRequest) checkTrial() error {
	if r.CalibrationBatchSalt == nil && r.CalibrationBatchWater == nil && r.CalibrationBatchReading == nil {
		return nil
	}
	given := 0
	var missing []error
	for _, part := range []struct {
		name  string
		there bool
	}{
		{"calibration_batch_salt", r.CalibrationBatchSalt != nil},
		{"calibration_batch_water", r.CalibrationBatchWater != nil},
		{"calibration_batch_reading", r.CalibrationBatchReading != nil},
	} {
		if part.there {
			given++
		} else {
			missing = append(missing, &instrument.MissingError{Name: part.name, Why: "a trial batch needs its salt, its water and its reading", Note: quantity.Note{Code: "trial_batch_incomplete"}})
		}
	}
	switch {
	case given < 3:
		return errors.Join(missing...)
	case r.ProductWaterContent != nil:
		return &instrument.ConflictError{Name: "product_water_content", Other: "calibration_batch_reading", Why: "the trial batch tells the water content; give one of them", Note: quantity.Note{Code: "content_or_trial_batch"}}
	}
	return errors.Join(check(masses, "calibration_batch_salt", r.CalibrationBatchSalt), check(volumes, "calibration_batch_water", r.CalibrationBatchWater))
}

var masses = quantity.Range[quantity.Mass]{Lo: 1e-6, Hi: 1e9}

func (r *SaltRequest) contentKnown() bool {
	return r.ProductWaterContent != nil || r.CalibrationBatchSalt != nil
}

// estimates makes the joint function of the request.
func (r *SaltRequest) estimates() (*estimates[batch], error) {
	e := &estimates[batch]{}
	volume := r.Volume
	if volume == nil {
		vessel, err := NetVolume(r.vessel())
		if err != nil {
			return nil, err
		}
		volume = &vessel.NetVolume
	}
	v := input(&e.joint, "volume", *volume)
	t := input(&e.joint, "temperature", *r.Temperature)
	target := e.reading("target", "target", r.Target, t)
	source := e.reading("source", "source", *r.Source, t)
	salt := e.joint.of(quantity.Input{Name: "composition", Value: 1, U: composition}, origin{"target", "1"})
	content := r.content(&e.joint, t)
	e.of = func(x []float64) (k batch, err error) {
		sa, noTarget := target(x)
		s, noSource := source(x)
		w, noContent := content(x)
		rho, noDensity := density(sa, t(x))
		from, noFrom := density(s, t(x))
		if err := errors.Join(noTarget, noSource, noContent, noDensity, noFrom); err != nil {
			return k, err
		}
		mass := v(x) * rho
		dry := mass * (sa - s) * salt(x) / 1000
		k = batch{sa: sa, from: s, perLitre: sa * rho, content: w, final: v(x)}
		k.salt = dry / (1 - w - s/1000)
		k.hydrated = dry / (1 - hydrated - s/1000)
		k.source = (mass - k.salt) / from
		return k, nil
	}
	return e, nil
}

// content returns the water content of the product: as given, or from a trial batch, or none.
func (r *SaltRequest) content(j *joint, t func([]float64) float64) func([]float64) (float64, error) {
	switch {
	case r.ProductWaterContent != nil:
		w := input(j, "product_water_content", *r.ProductWaterContent)
		return func(x []float64) (float64, error) { return w(x), nil }
	case r.CalibrationBatchSalt == nil:
		return func([]float64) (float64, error) { return 0, nil }
	}
	salt := input(j, "calibration_batch_salt", *r.CalibrationBatchSalt)
	water := input(j, "calibration_batch_water", *r.CalibrationBatchWater)
	read := j.reading("calibration_batch_reading", "calibration_batch_reading", *r.CalibrationBatchReading, t)
	return func(x []float64) (float64, error) {
		sa, err := read(x)
		if err != nil {
			return 0, err
		}
		pure, err := density(0, t(x))
		if err != nil {
			return 0, err
		}
		return 1 - sa/1000*(salt(x)+water(x)*pure)/salt(x), nil
	}
}

// trialSlack is how much more salt than it weighs a trial batch may seem to contain: the
// error of a hobby refractometer near sea water.
const trialSlack = 0.03

// reachable refuses a target that adding the product to the source cannot make.
func (r *SaltRequest) reachable(k batch, err error) error {
	if err != nil {
		return err
	}
	if k.content < -trialSlack || k.content > float64(contents.Hi) {
		return &instrument.ConflictError{Name: "calibration_batch_reading", Other: "calibration_batch_salt",
			Why: "that reading would need a product with less than no water in it, or more than 60 %; weigh, dissolve fully and read again", Note: quantity.Note{Code: "trial_batch_impossible"}}
	}
	if k.salt <= 0 && k.sa > 0 || k.salt < 0 {
		return &UnreachableError{Name: "target", Target: quantity.AbsoluteSalinity(k.sa), Lo: quantity.AbsoluteSalinity(k.from), Hi: 120,
			Why: "Salt can only be added: use fresher source water, or blend.", Note: quantity.Note{Code: "salt_only_added_or_blend"}}
	}
	return nil
}

// vessel is the vessel of the request.
func (r *SaltRequest) vessel() VesselRequest {
	return VesselRequest{*r.Shape, r.Length, r.Width, r.MiddleWidth, r.Height, r.Diameter, r.TopDiameter, r.BottomDiameter,
		r.FillHeight, r.Glass, r.SandDepth, r.SandPorosity, r.RockMass, r.RockDensity}
}

// litreWeighs is how far the mass of a litre of a keeper's water may be from 1 kg.
const litreWeighs = 0.015

// loadsFloor is from how much water on a floor should be asked about, L. Common practice, no
// source.
const loadsFloor = 100

// heavy cautions where there is more water than a person should lift.
func heavy(v quantity.Volume) []quantity.Note {
	if v < 20 {
		return nil
	}
	code := quantity.Code("water_is_heavy")
	if v < loadsFloor {
		code = "water_is_heavy_to_lift"
	}
	return []quantity.Note{note(code, quantity.Exactly(v), quantity.Of[quantity.Mass](float64(v), litreWeighs*float64(v)))}
}
