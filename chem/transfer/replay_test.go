package transfer

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"saltlock/chem/drip"
	"saltlock/chem/lifesupport"
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// replays is how many random requests are planned and carried out: 60, or 12 in short,
// unless SALTLOCK_REPLAYS says otherwise.
func replays(t testing.TB) int {
	n := os.Getenv("SALTLOCK_REPLAYS")
	switch {
	case n == "" && testing.Short():
		return 12
	case n == "":
		return 60
	}
	count, err := strconv.Atoi(n)
	if err != nil {
		t.Fatal(err)
	}
	return count
}

// Every plan of the table, and of random requests, is carried out minute by minute by independent
// balances, and no limit is broken on the way.
func TestReplay(t *testing.T) {
	for _, m := range twenty(t) {
		if m.want == Drip {
			replayed(t, m.name, m.request)
		}
	}
	dice := requestDice{rand.New(rand.NewPCG(20261128, 1))}
	planned := 0
	for i := range replays(t) {
		if replayed(t, "random "+strconv.Itoa(i), dice.request(t)) {
			planned++
		}
	}
	if planned < replays(t)/3 {
		t.Errorf("only %d of %d random requests have a drip", planned, replays(t))
	}
	t.Logf("%d of %d random requests were planned as drips and carried out", planned, replays(t))
}

// replayed plans a request and carries out its drip; false if it is refused, with a reason.
func replayed(t *testing.T, name string, r Request) bool {
	t.Helper()
	p, err := NewPlan(t.Context(), r)
	if _, refused := errors.AsType[*InfeasibleError](err); refused {
		return false
	}
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return false
	}
	if p.Route != Drip && p.Route != ByCups {
		return false
	}
	kept(t, p)
	task, err := newTask(r.WithDefaults())
	if err != nil {
		t.Fatal(err)
	}
	w := &witness{T: t, name: name, task: task, plan: p, drop: float64(r.Line.WithDefaults().DropVolume.Value), in: poured(t, asPoured(r), 1)}
	w.line = r.Line.WithDefaults()
	w.at = poured(t, r.From, float64(p.Phases[0].FromVolume.Value))
	w.celsius, w.held = task.from.t, !task.unheld()
	if tan := r.From.TAN; tan != nil {
		w.tan = float64(tan.Value)
	}
	w.carryOut()
	if r.Visits != nil {
		if n := len(p.Phases) - 2; p.Route == ByCups { // the rest begins at the visit of the last cup
			p.Phases[n].Start.Value -= drip.Pouring
		}
		onVisits(t, r, p)
	}
	return true
}

// witness carries out a drip and watches every limit.
type witness struct {
	*testing.T
	name    string
	task    *task
	plan    Plan
	line    Line
	drop    float64 // L
	in, at  pail
	tan     float64 // mg/L N, at the greatest output
	celsius float64 // in the room
	held    bool
	fastest float64 // K/h
	drift   float64 // K
	clock   float64
	acts    []float64
	cup     float64 // h, when the last cup was poured
	clear   float64 // h, that its step stays clear of others
}

func (w *witness) bad(format string, args ...any) {
	w.Helper()
	w.Errorf("%s: at %.3f h: "+format, append([]any{w.name, w.clock}, args...)...)
}

// carryOut follows the phases.
func (w *witness) carryOut() {
	rim := float64(w.task.request.Container.Capacity.Value)
	least := 0.0
	if v := w.task.request.Container.LeastVolume; v != nil {
		least = float64(v.Value)
	}
	for _, phase := range w.plan.Phases {
		if w.plan.Route == ByCups { // the wait after a cup is told by when the next is poured
			w.wait(max(0, float64(phase.Start.Value)-w.clock))
		}
		if math.Abs(float64(phase.Start.Value)-w.clock) > 1e-6 {
			w.bad("%s is told for %.6f h", phase.Kind, float64(phase.Start.Value))
		}
		_, _, volume := w.at.water(w)
		switch phase.Kind {
		case PourOff:
			share := float64(phase.ToVolume.Value) / volume
			w.at = pail{w.at.mass * share, w.at.salt * share, w.at.heat * share}
			if float64(phase.ToVolume.Value) < least*(1-1e-9) {
				w.bad("%.4f L stay, least are %.4f", float64(phase.ToVolume.Value), least)
			}
			w.acts = append(w.acts, w.clock)
		case Fill, RunOver:
			if phase.SetValve {
				w.acts = append(w.acts, w.clock)
			}
			w.let(phase)
		case Cups:
			w.pour(phase)
		case Rest:
			w.wait(float64(phase.Duration.Value))
		}
		if _, _, volume := w.at.water(w); volume > rim*(1+1e-9) {
			w.bad("%.4f L in a container of %.4f", volume, rim)
		}
	}
	w.judge()
}

// let lets a drip run.
func (w *witness) let(phase Phase) {
	rate := float64(phase.Drip.Value)
	if rate < float64(w.line.LeastDrip.Value)*(1-1e-9) || rate > float64(w.line.GreatestDrip.Value)*(1+1e-9) {
		w.bad("%.4f drops/s", rate)
	}
	flow := rate * 3600 * w.drop * w.in.mass
	hours := float64(phase.Duration.Value)
	n := max(20, int(hours*30)) // every two minutes
	for range n {
		w.watch(flow)
		w.live(flow/w.in.mass, hours/float64(n), phase.Kind == RunOver)
		if phase.Kind == RunOver {
			w.runOver(flow, hours/float64(n))
		} else {
			w.at = w.at.dripped(w.in, flow, hours/float64(n))
		}
		w.clock += hours / float64(n)
	}
}

// runOver exchanges water at one volume.
func (w *witness) runOver(flow, hours float64) {
	_, _, volume := w.at.water(w)
	s := spilling{w.at.salinity(), w.at.heat / w.at.mass}.dripped(w, w.in, flow, volume, hours)
	mass := s.full(w, volume)
	w.at = pail{mass, mass * s[0], mass * s[1]}
}

func (w *witness) wait(hours float64) {
	n := max(4, int(hours*30))
	for range n {
		w.live(0, hours/float64(n), false)
		w.clock += hours / float64(n)
	}
}

// watch checks what changes now against the hourly limits.
func (w *witness) watch(flow float64) {
	rate := flow * math.Abs(w.in.salinity()-w.at.salinity()) / w.at.mass
	if most := w.task.rules.perHour(w.at.salinity()); rate > most*(1+1e-6) {
		w.bad("%.5f g/kg/h at %.4f g/kg, limit %.5f", rate, w.at.salinity(), most)
	}
	if w.task.counts() && w.held {
		next := w.at.dripped(w.in, flow, 1e-4)
		_, a, _ := w.at.water(w)
		_, b, _ := next.water(w)
		if warming := math.Abs(float64(b-a)) / 1e-4; warming > w.task.rules.temperature*(1+1e-3) {
			w.bad("%.4f K/h, limit %.4f", warming, w.task.rules.temperature)
		}
	}
}

// live carries ammonia and, in a room, the temperature on by small steps of Euler's
// method on the balances as lifesupport.Methods states them: the output of the
// animals twice as high in the first two hours, and twice again at the greatest;
// 3.6 W/K of a bucket of 20 L, in proportion to area, over 4130 J/(L K).
func (w *witness) live(inflow, hours float64, over bool) {
	const steps = 8
	_, _, volume := w.at.water(w)
	for range steps {
		h := hours / steps
		if life := w.plan.LifeSupport; life != nil {
			output := 0.0
			for _, a := range w.task.request.Animals {
				each, err := lifesupport.AmmoniaOutput(a.Mass.Value, life.Temperature.Value)
				if err != nil {
					w.Fatal(err)
				}
				output += float64(*a.Count) * float64(a.Mass.Value) * each * 2
			}
			if w.clock < 2 {
				output *= 2
			}
			added := 0.0
			if tan := w.task.request.To.TAN; tan != nil {
				added = float64(tan.Value)
			}
			w.tan += h * (inflow*(added-w.tan) + output) / volume
		}
		if !w.held {
			room := float64(w.task.request.RoomTemperature.Value)
			exchange := 3.6 * math.Pow(volume/20, 2./3) * 3600 / 4130 // L/h
			rate := (inflow*(w.task.to.t-w.celsius) + exchange*(room-w.celsius)) / volume
			w.fastest = max(w.fastest, math.Abs(rate))
			w.celsius += h * rate
			w.drift = max(w.drift, math.Abs(w.celsius-w.task.from.t))
		}
		if !over {
			volume += inflow * h
		}
	}
	w.unionized()
}

// unionized checks the container's ammonia now against its limit.
func (w *witness) unionized() {
	life := w.plan.LifeSupport
	if life == nil {
		return
	}
	sp, _ := seawater.Salinity(quantity.AbsoluteSalinity(w.at.salinity()))
	share, err := seawater.UnionizedAmmonia(life.PH.Value, sp, life.Temperature.Value, seawater.NBSScale)
	if err != nil {
		w.Fatal(err)
	}
	limit := limitOf(w, w.plan, "nh3").Limit.Value
	if nh3 := w.tan * float64(share); nh3 > limit*(1+5e-3) { // the steps of this test are good to half a per cent
		w.bad("%.5f mg/L N of NH3, limit %.5f", nh3, limit)
	}
}

// judge checks the end, what the room did, and how far apart acts are.
func (w *witness) judge() {
	if gap := math.Abs(w.in.salinity() - w.at.salinity()); gap > float64(w.plan.Tolerance.Value)*(1+1e-6) {
		w.bad("%.6f g/kg are left, at most %.6f may be", gap, float64(w.plan.Tolerance.Value))
	}
	if w.drift >= countedDifference*1.01 && (w.fastest > w.task.rules.slowest()*(1+1e-2) || w.drift > w.task.rules.roomOfDay*(1+1e-2)) {
		w.bad("the room takes it %.3f K at up to %.3f K/h, limits %.3f and %.3f", w.drift, w.fastest, w.task.rules.roomOfDay, w.task.rules.slowest())
	}
	for i := 1; i < len(w.acts); i++ {
		if apart := w.acts[i] - w.acts[i-1]; apart > 1e-9 && apart < drip.DefaultSpacing*(1-1e-6) {
			w.bad("acts lie %.4f h apart", apart)
		}
	}
}
