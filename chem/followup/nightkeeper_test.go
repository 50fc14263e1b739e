package followup_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"
	"time"

	"saltlock/chem/followup"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// dice rolls what goes wrong in a night.
func dice(rng *rand.Rand, in float64, quiet bool) (n *night, absurd int) {
	n = &night{rng: rng, in: in, brim: 20, drop: 0.05e-3 * math.Exp(0.1*rng.NormFloat64()), fault: 1,
		faultAt: math.Inf(1), pourAt: math.Inf(1), biasSG: 0.001 * float64(1-2*rng.Intn(2))}
	n.mass = 6 * (fresh + perSal*2)
	n.salt = n.mass * 2 * quantity.GramsPerPractical
	n.mass *= 1 + 0.015*rng.NormFloat64()
	n.salt = n.mass * 2 * quantity.GramsPerPractical
	if absurd = -1; quiet {
		return n, absurd
	}
	absurd = 1 + rng.Intn(3)
	n.pourAt, n.pourBy = 0.5+5*rng.Float64(), 0.8+rng.Float64()
	if n.faultAt = 0.3 + 5*rng.Float64(); rng.Intn(2) == 0 {
		n.faultBy = 1.8 + 1.2*rng.Float64()
	} else {
		n.faultBy = 0.5 * rng.Float64()
	}
	return n, absurd
}

// seen is an entry of the log as the keeper reads it.
func seen(n *night, start time.Time, absurd bool) followup.LogEntry {
	sg, litres := n.hydrometer(), n.marks()
	if absurd && n.rng.Intn(2) == 0 {
		sg += 0.010
	} else if absurd {
		litres += 7
	}
	e := followup.LogEntry{Time: new(start.Add(time.Duration(n.clock * float64(time.Hour)))),
		Salinity: &quantity.Reading{Value: sg, Scale: quantity.SpecificGravityScale}, Temperature: estimate[quantity.Celsius]("25 C"),
		Volume: new(quantity.Of[quantity.Volume](litres, 0.06))}
	e.Drops, e.DropsIn = new(n.count()), estimate[quantity.Duration]("10 s")
	return e
}

// keeper carries out what is said, an hour late at times.
type nightKeeper struct {
	*night
	start   time.Time
	request transfer.Request
	limit   float64 // g/kg/h
	log     []followup.LogEntry
	legs    []followup.Leg
	out     outcome
	since   int // readings since the fault
}

// late is by how much the next visit is late, h.
func (k *nightKeeper) late() float64 { x := k.rng.Float64(); return x * x }

// param is a number that a note speaks of.
func param(n quantity.Note, i int) float64 {
	switch p := n.Params[i].(type) {
	case int:
		return float64(p)
	case quantity.Measure: // a mark
		return p.Value
	case quantity.Estimate[quantity.Flow]:
		return float64(p.Value)
	case quantity.Estimate[quantity.Volume]:
		return float64(p.Value)
	case quantity.Estimate[quantity.Duration]:
		return float64(p.Value)
	}
	panic(fmt.Sprintf("%s: %T", n.Code, n.Params[i]))
}

// do does what a note says, and returns after how many hours the next act comes.
func (k *nightKeeper) do(n quantity.Note) (next float64) {
	switch n.Code {
	case "now_set_drip", "now_count_again":
		k.set(param(n, 0) / param(n, 1))
	case "now_set_flow":
		k.catch(param(n, 0))
	case "now_pour_and_set_flow":
		k.pour(param(n, 1))
		k.catch(param(n, 2))
	case "now_set":
		k.set(param(n, 0) / param(n, 1))
	case "now_pour_and_set":
		k.pour(param(n, 1))
		k.set(param(n, 2) / param(n, 3))
	case "now_pour", "now_pour_and_fill":
		k.pour(param(n, 1))
	case "now_go_on":
		return param(n, 1)
	case "now_close_and_hold", "now_hold", "now_read_again", "now_read_to_release", "act_close_clamp", "now_no_way_on", "now_arrived", "now_rest_until", "now_read_volume", "now_move_over",
		"now_read_salinity_again", "act_close_read_salinity", "act_close_and_read", "act_close_and_new_water", "now_over_or_not":
		k.drops = 0
	case "then_find_out", "act_check_instrument", "act_fill_jug": // its jug is never empty
	case "act_read_once_more", "act_read_and_new_water":
		return 0.1
	default:
		panic(string(n.Code))
	}
	return 2
}

// visit logs what is seen, does what is said, and reports whether all is over.
func (k *nightKeeper) visit(t *testing.T, absurd bool) (over bool, next float64) {
	t.Helper()
	k.log = append(k.log, seen(k.night, k.start, absurd))
	c, err := followup.Follow(t.Context(), k.request, k.legs, k.log)
	if err != nil {
		t.Fatal(err)
	}
	k.legs = c.Legs
	k.judge(c)
	next = 1.5
	if then := k.do(c.Now); then < next {
		next = max(0.1, then)
	}
	if len(c.Then) > 0 && c.Now.Code == "now_close_and_hold" { // and set as is said when the hold is over
		leg := c.Legs[len(c.Legs)-1]
		k.until(leg.At + k.late()/2)
		for _, then := range c.Then {
			k.do(then)
		}
	}
	if k.rate() > 1.05*k.limit {
		k.out.broken = true
		k.out.worst = max(k.out.worst, k.rate())
	}
	return c.Verdict == followup.Arrived, next
}

// judge notes what the course names.
func (k *nightKeeper) judge(c followup.Course) {
	if k.out.quiet {
		k.out.falseAlarms = max(k.out.falseAlarms, len(c.Found))
	}
	if k.out.fault == "" || !k.faulted {
		return
	}
	k.since++
	k.out.since = k.since
	for _, x := range c.Found {
		if x.Kind == k.out.fault && k.out.namedAt == 0 {
			k.out.namedAt = k.since
		}
	}
	k.out.named = k.out.namedAt > 0 && k.out.namedAt <= 2
}

// corrected sets the valve as planned, then looks in every hour and a half, at first
// after half an hour.
func (k *nightKeeper) corrected(t *testing.T, absurd int) {
	t.Helper()
	k.set(k.legs[0].Steps[0].Drip)
	at := 0.5
	for i := 0; k.clock < 48; i++ {
		k.until(at + k.late())
		over, next := k.visit(t, i == absurd)
		if over {
			return
		}
		at = k.clock + next
	}
}

// byPlan does everything at the hour of the plan, or late.
func (k *nightKeeper) byPlan(p transfer.Plan) {
	for _, phase := range p.Phases {
		k.until(max(k.clock, float64(phase.Start.Value)+k.late()))
		switch phase.Kind {
		case transfer.PourOff:
			k.pour(float64(phase.ToVolume.Value))
		case transfer.Fill:
			if phase.SetValve {
				k.set(float64(phase.Drip.Value))
			}
		default:
			k.drops = 0
		}
		k.out.broken = k.out.broken || k.rate() > 1.05*k.limit
	}
}
