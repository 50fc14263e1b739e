package mixing

import (
	"errors"
	"math"
	"strconv"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// step is one water change: litres taken out and put in, salinities in g/kg.
type step struct{ out, in, fresh, after float64 }

// change is the joint function of a water change.
type change struct {
	steps                  []step
	salt, hydrated, source float64 // of the new water of all steps
}

func (k change) total(pick func(step) float64) float64 {
	sum := 0.0
	for _, s := range k.steps {
		sum += pick(s)
	}
	return sum
}

// mostSteps is the most steps of one answer.
const mostSteps = 200

// changeInputs reads the raw inputs of a water change off the arguments of its joint function.
type changeInputs struct {
	volume, change, content, t    func([]float64) float64
	now, target, newWater, source func([]float64) (float64, error)
	greatestChange, greatestShare float64 // +Inf if not given; as limits, they have no uncertainty
	mode                          ChangeMode
	count                         int // of steps, fixed once for all arguments
}

// estimates makes the joint function of the request.
func (r WaterChangeRequest) estimates() (*estimates[change], error) {
	e := &estimates[change]{}
	in := changeInputs{mode: r.mode(), greatestChange: math.Inf(1), greatestShare: 1, count: 1}
	in.volume, in.t = input(&e.joint, "volume", r.Volume), input(&e.joint, "temperature", *r.Temperature)
	in.change, in.content = optional(&e.joint, "change", r.Change), optional(&e.joint, "product_water_content", r.ProductWaterContent)
	in.now = e.reading("salinity", "salinity", r.Salinity, in.t)
	in.target = in.now // the tank stays as it is
	if r.Target != nil {
		in.target = e.reading("target", "target", *r.Target, in.t)
	}
	if r.NewWater != nil {
		in.newWater = e.reading("new_water", "new_water", *r.NewWater, in.t)
	}
	if r.Source != nil {
		in.source = e.reading("source", "source", *r.Source, in.t)
	}
	if r.GreatestChange != nil {
		in.greatestChange = float64(r.GreatestChange.Value)
	}
	if r.GreatestShare != nil {
		in.greatestShare = float64(r.GreatestShare.Value)
	}
	e.of = func(x []float64) (change, error) { return in.steps(x) }
	for ; in.count <= mostSteps; in.count++ {
		k, err := e.of(e.nominal)
		if err != nil || in.gentle(k, e.nominal) {
			return e, err
		}
	}
	name := "greatest_share"
	if r.GreatestChange != nil {
		name = "greatest_change"
	}
	return nil, &instrument.ConflictError{Name: name, Other: "target", Why: "it takes more than " + strconv.Itoa(mostSteps) + " steps; allow larger ones or choose a nearer target", Note: quantity.Note{Code: "too_many_steps", Params: []any{mostSteps}}}
}

// gentle reports whether no step changes more than allowed.
func (in changeInputs) gentle(k change, x []float64) bool {
	before, err := in.now(x)
	for _, s := range k.steps {
		if math.Abs(s.after-before) > in.greatestChange*(1+1e-9) || s.out > in.greatestShare*in.volume(x)*(1+1e-9) {
			return false
		}
		before = s.after
	}
	return err == nil
}

// steps computes the steps, and the salt that their new water takes.
func (in changeInputs) steps(x []float64) (k change, err error) {
	start, noNow := in.now(x)
	target, noTarget := in.target(x)
	if err := errors.Join(noNow, noTarget); err != nil {
		return k, err
	}
	before := start
	for i := range in.count {
		done := float64(i+1) / float64(in.count)
		var s step
		switch in.mode {
		case Exchange:
			s, err = in.exchange(x, start, before, target, done)
		case Weekly:
			s, err = in.weekly(x, before, start+(target-start)*done)
		case Outcome:
			s, err = in.outcome(x, before)
		}
		if err != nil {
			return k, err
		}
		before = s.after
		k.steps = append(k.steps, s)
	}
	return k, in.dose(x, &k)
}

// exchange is the step after which a part of the difference from start to target is covered.
// Each step takes an equal share of the tank, so the gap to the new water falls by the same
// factor each time.
func (in changeInputs) exchange(x []float64, start, before, target, done float64) (step, error) {
	fresh, err := in.newWater(x)
	if err != nil {
		return step{}, err
	}
	if (target-start)*(fresh-target) < 0 {
		return step{}, &UnreachableError{Name: "target", Target: quantity.AbsoluteSalinity(target),
			Lo: quantity.AbsoluteSalinity(min(start, fresh)), Hi: quantity.AbsoluteSalinity(max(start, fresh)),
			Why: "A change brings the tank between its own water and the new, and to neither end.", Note: quantity.Note{Code: "change_lies_between"}}
	}
	after := fresh
	if start != fresh {
		after = fresh - (fresh-start)*math.Pow((fresh-target)/(fresh-start), done)
	}
	return exchanged(in.volume(x), in.t(x), before, fresh, after)
}

// outcome is one of the steps of a given change for a given water.
func (in changeInputs) outcome(x []float64, before float64) (step, error) {
	fresh, err := in.newWater(x)
	if err != nil {
		return step{}, err
	}
	return poured(in.volume(x), in.t(x), before, fresh, in.change(x)/float64(in.count))
}

// weekly finds the new water with which a change of the given volume brings the tank to after.
func (in changeInputs) weekly(x []float64, before, after float64) (step, error) {
	v, t, out := in.volume(x), in.t(x), in.change(x)
	old, noOld := density(before, t)
	end, noEnd := density(after, t)
	if err := errors.Join(noOld, noEnd); err != nil {
		return step{}, err
	}
	rest := (v - out) * old
	added := v*end - rest
	fresh := (v*end*after - rest*before) / added
	source, err := in.source(x)
	if err != nil {
		return step{}, err
	}
	if !(fresh >= source && fresh <= mostSalt) {
		lowest, noLow := poured(v, t, before, source, out)
		highest, noHigh := poured(v, t, before, mostSalt, out)
		if err := errors.Join(noLow, noHigh); err != nil {
			return step{}, err
		}
		return step{}, &UnreachableError{Name: "target", Target: quantity.AbsoluteSalinity(after),
			Lo: quantity.AbsoluteSalinity(lowest.after), Hi: quantity.AbsoluteSalinity(highest.after),
			Why: "One change of this volume reaches no further. Change more, use fresher source water, or allow several steps.", Note: quantity.Note{Code: "change_reaches_no_further"}}
	}
	rho, err := density(fresh, t)
	return step{out: out, in: added / rho, fresh: fresh, after: after}, err
}

// mostSalt is the saltiest new water that is planned, g/kg.
const mostSalt = 120

// dose finds the salt that makes the new water of all steps from the source.
func (in changeInputs) dose(x []float64, k *change) error {
	if in.source == nil {
		return nil
	}
	source, err := in.source(x)
	if err != nil {
		return err
	}
	from, err := density(source, in.t(x))
	if err != nil {
		return err
	}
	for _, s := range k.steps {
		rho, err := density(s.fresh, in.t(x))
		if err != nil {
			return err
		}
		if s.fresh < source {
			return &UnreachableError{Name: "new_water", Target: quantity.AbsoluteSalinity(s.fresh),
				Lo: quantity.AbsoluteSalinity(source), Hi: mostSalt, Why: "Salt can only be added: use fresher source water.", Note: quantity.Note{Code: "salt_only_added"}}
		}
		mass := s.in * rho
		dry := mass * (s.fresh - source) / 1000
		salt := dry / (1 - in.content(x) - source/1000)
		k.salt += salt
		k.hydrated += dry / (1 - hydrated - source/1000)
		k.source += (mass - salt) / from
	}
	return nil
}

// exchanged is the change for a given new water that brings the tank from before to after.
func exchanged(v, t, before, fresh, after float64) (step, error) {
	old, noOld := density(before, t)
	end, noEnd := density(after, t)
	rho, noNew := density(fresh, t)
	if err := errors.Join(noOld, noEnd, noNew); err != nil {
		return step{}, err
	}
	added := 0.0
	if after != before {
		added = v * end * (after - before) / (fresh - before)
	}
	return step{out: v - (v*end-added)/old, in: added / rho, fresh: fresh, after: after}, nil
}

// poured is the tank after out is taken out and it is filled up to its level with new water.
func poured(v, t, before, fresh, out float64) (step, error) {
	old, noOld := density(before, t)
	rho, noNew := density(fresh, t)
	if err := errors.Join(noOld, noNew); err != nil {
		return step{}, err
	}
	rest := (v - out) * old
	added, err := settle(out*rho, v*max(old, rho), func(added float64) (float64, error) {
		end, err := density((rest*before+added*fresh)/(rest+added), t)
		return v*end - rest, err
	})
	return step{out: out, in: added / rho, fresh: fresh, after: (rest*before + added*fresh) / (rest + added)}, err
}
