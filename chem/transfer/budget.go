package transfer

// budget is how much work may still be done for one request, including all its stages and what is
// offered beside its plan. It counts legs of schedules and the constraints they are checked
// against, and never time, so that the same request has the same plan on every machine.
type budget struct{ left int }

// mostWork bounds the work of a request: about a microsecond each on an ordinary machine. A single
// search may use two fifths of what is left, so that a hard one leaves something for the others,
// and the searches beside the plan a sixth; each gets leastWork in any case.
const (
	mostWork  = 450_000
	leastWork = 12_000
)

func newBudget() *budget { return &budget{mostWork} }

func (b *budget) share() int { return max(b.left*2/5, leastWork) }
func (b *budget) aside() int { return max(b.left/6, leastWork) }
func (b *budget) rest() int  { return max(b.left, leastWork) }

// lend gives a plan the work that a request of its own would have, and charges what it took.
func (b *budget) lend(plan func(*budget) (Plan, error)) (Plan, error) {
	own := newBudget()
	p, err := plan(own)
	b.spend(mostWork - own.left)
	return p, err
}

func (b *budget) spent() bool { return b.left <= leastWork }
func (b *budget) spend(n int) { b.left -= n }

// weightOf is how much more a leg costs under a constraint, measured.
var weightOf = map[constraintKind]int{ofLife: 3, ofRoom: 2, ofHead: 1, ofBore: 1}

// weight is the work of one evaluation of the problem, with so many acts beyond those that the
// container forces.
func (p problem) weight(acts int) int {
	dear := 1
	for _, k := range p.kinds {
		dear += weightOf[k]
	}
	return (p.forced + acts) * dear
}
