package transfer

import (
	"errors"
	"math"
	"strings"
	"testing"

	"saltlock/chem/quantity"
	"saltlock/chem/tolerance"
)

// scats is a drip of some young fish from 2 to 10 ppt.
func scats(t testing.TB, count int, mass string) Request {
	t.Helper()
	return Request{
		Animals: []Animal{{Sensitivity: new(tolerance.Hardy), Count: &count, Mass: read[quantity.Mass](t, mass)}},
		From:    water(t, "2 ppt", "26 C"), To: water(t, "10 ppt", "26 C"),
		Container: Container{Capacity: read[quantity.Volume](t, "20 L"), StartVolume: read[quantity.Volume](t, "6 L"), Aerated: new(true)},
		Line:      &Line{DropVolume: read[quantity.Volume](t, "0.05 mL")},
	}
}

// faultsAll returns the faults of an infeasible plan.
func faultsAll(t testing.TB, r Request) []Fault {
	t.Helper()
	_, err := NewPlan(t.Context(), r)
	infeasible, ok := errors.AsType[*InfeasibleError](err)
	if !ok {
		t.Fatalf("NewPlan says %v, want it infeasible", err)
	}
	return infeasible.Faults
}

// faultsOf returns the notes of an infeasible plan by their place.
func faultsOf(t testing.TB, r Request) map[string]quantity.Note {
	t.Helper()
	faults := map[string]quantity.Note{}
	for _, f := range faultsAll(t, r) {
		faults[f.Where] = f.Note
	}
	return faults
}

// What a plan says about life in the container is consistent: its limits, its curve and its report
// describe one course.
func TestLifeSupport(t *testing.T) {
	p, err := NewPlan(t.Context(), scats(t, 4, "1 g"))
	if err != nil {
		t.Fatal(err)
	}
	life := p.LifeSupport
	if life == nil {
		t.Fatal("a plan of counted animals has no life support")
	}
	if ratio := float64(life.NH3AtGreatestUse.Value / life.NH3.Value); math.Abs(ratio-2) > 1e-9 {
		t.Errorf("the greatest use brings %v times the ammonia of the likely, want 2", ratio)
	}
	var limit Limit
	for _, l := range p.Limits {
		if l.Name == "nh3" {
			limit = l
		}
	}
	if limit.Extreme.Value != float64(life.NH3AtGreatestUse.Value) || limit.Margin.Value < 0 {
		t.Errorf("limit nh3 is %+v, want it kept at %v", limit, life.NH3AtGreatestUse)
	}
	if want := limit.Limit.Value / limit.Extreme.Value; math.Abs(float64(life.MostAnimals.Value)/want-1) > 1e-9 {
		t.Errorf("the limits allow %v of the animals, want %v: ammonia is linear in them", life.MostAnimals.Value, want)
	}
	first, last := p.Curve[0], p.Curve[len(p.Curve)-1]
	if first.TAN.Value != 0 || last.NH3.Value != life.NH3.Value {
		t.Errorf("ammonia goes from %v to %v, want 0 to %v", first.TAN, last.NH3, life.NH3)
	}
}

// A field that only life support uses is not ignored silently.
func TestLifeSupportNeedsCounts(t *testing.T) {
	r := scats(t, 4, "1 g")
	r.Animals[0].Count, r.Animals[0].Mass = nil, nil
	r.From.TAN = read[quantity.AmmoniaNitrogen](t, "0.1 mg/L N")
	_, err := NewPlan(t.Context(), r)
	for _, name := range []string{"animals.0.count", "animals.0.mass"} {
		if err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("ammonia given without animals: %v, want %s asked for", err, name)
		}
	}
}

// What a refusal says would work, works.
func TestLifeSupportRefuses(t *testing.T) {
	r := scats(t, 12, "3 g")
	faults := faultsOf(t, r)
	for _, where := range []string{"animals.0.count", "container.capacity", "to.alkalinity"} {
		if faults[where].Code == "" {
			t.Fatalf("no fault at %s: %v", where, faults)
		}
	}
	fewer := scats(t, faults["animals.0.count"].Params[2].(int), "3 g")
	if _, err := NewPlan(t.Context(), fewer); err != nil {
		t.Errorf("with the %d animals advised: %v", *fewer.Animals[0].Count, err)
	}
	room := faults["container.capacity"].Params[0].(quantity.Estimate[quantity.Volume]).Value
	larger := r
	larger.Container.Capacity = new(quantity.Exactly(room))
	larger.Container.StartVolume = new(quantity.Exactly(room * 6 / 20))
	larger.Line = &Line{DropVolume: r.Line.DropVolume, GreatestDrip: new(quantity.Exactly(quantity.DripRate(4 * room / 20)))}
	if _, err := NewPlan(t.Context(), larger); err != nil {
		t.Errorf("in the container of %v L advised: %v", room, err)
	}
	soft := r
	for _, w := range []*Water{&soft.From, &soft.To} {
		w.PH, w.Alkalinity = read[quantity.PH](t, "7"), read[quantity.Alkalinity](t, "0.5 meq/L")
	}
	if _, err := NewPlan(t.Context(), soft); err != nil {
		t.Errorf("in soft water of known alkalinity: %v", err)
	}
}

// Waters that are bad without any animal are distinguished from too many animals.
func TestWaterItselfRefused(t *testing.T) {
	for where, change := range map[string]func(r *Request){
		"from.tan":      func(r *Request) { r.From.TAN = read[quantity.AmmoniaNitrogen](t, "5 mg/L N") },
		"to.tan":        func(r *Request) { r.To.TAN = read[quantity.AmmoniaNitrogen](t, "5 mg/L N") },
		"limits.oxygen": func(r *Request) { r.Limits = &Limits{Oxygen: read[quantity.DissolvedOxygen](t, "9 mg/L")} },
	} {
		r := scats(t, 1, "1 g")
		change(&r)
		if faults := faultsOf(t, r); faults[where].Code == "" {
			t.Errorf("no fault at %s: %v", where, faults)
		}
	}
}

// No animal is dripped in the water of a bag whose ammonia is unknown or harmful: they leave it
// first.
func TestBagWater(t *testing.T) {
	for _, c := range []struct {
		hours, tan string
		out        bool
	}{
		{"20 h", "", true}, {"30 min", "", false}, {"20 h", "2 mg/L N", true}, {"20 h", "0.01 mg/L N", false},
	} {
		r := scats(t, 1, "1 g")
		r.Animals = nil
		r.Limits = &Limits{AtOnce: read[quantity.AbsoluteSalinity](t, "5 g/kg"), Per24Hours: read[quantity.AbsoluteSalinity](t, "10 g/kg")}
		r.From.HoursInBag = read[quantity.Duration](t, c.hours)
		if c.tan != "" {
			r.From.TAN = read[quantity.AmmoniaNitrogen](t, c.tan)
		}
		p, err := NewPlan(t.Context(), r)
		if out := p.Route == OutOfBag; err != nil || out != c.out {
			t.Errorf("%s in the bag, %q of ammonia: route %s, %v", c.hours, c.tan, p.Route, err)
		}
	}
}

// A faster drip that fouls the water gives way to one that does not.
func TestSlowerDripForLife(t *testing.T) {
	r := scats(t, 4, "1 g")
	p, err := NewPlan(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	r.Limits = &Limits{NH3: new(quantity.Exactly(p.LifeSupport.NH3AtGreatestUse.Value * 0.999))}
	q, err := NewPlan(t.Context(), r)
	if err != nil {
		if faults := faultsOf(t, r); faults["animals.0.count"].Code != "too_much_ammonia" {
			t.Errorf("under a tighter limit: %v", err)
		}
		return
	}
	if q.LifeSupport.NH3AtGreatestUse.Value > r.Limits.NH3.Value {
		t.Errorf("the plan brings %v of ammonia, more than %v", q.LifeSupport.NH3AtGreatestUse, r.Limits.NH3.Value)
	}
}
