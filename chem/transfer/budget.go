package transfer

// budget is how many schedules may still be tried for one request, all its stages
// and what stands beside its plan included. It is a count, and no time, so that the
// same request has the same plan on every machine.
type budget struct{ left int }

// mostTried bounds the schedules of a request: on a plain machine about a second and a half.
// A single search may use half of what is left, so that one that is hard leaves
// something for the others; leastTried is what each gets in any case.
const (
	mostTried  = 60_000
	leastTried = 1_500
)

func newBudget() *budget { return &budget{mostTried} }

func (b *budget) share() int  { return max(b.left/2, leastTried) }
func (b *budget) rest() int   { return max(b.left, leastTried) }
func (b *budget) spend(n int) { b.left -= n }
