package drip

// move is what is done at an act, as a set of bits.
type move uint8

const (
	set  move = 1 << iota // the valve
	pour                  // off
	shut                  // the valve, until the next act
)

// order is the sequence of moves between the start and the end of a drip.
type order []move

func (o order) count(m move) int {
	n := 0
	for _, a := range o {
		if a&m != 0 {
			n++
		}
	}
	return n
}

// layout maps each unknown of a schedule to its place in a vector. Leg i lies between
// act i−1 and act i of the order.
//
// The unknowns are logarithms, because in them the limits on flow and mass are linear:
// how far the gap has come down at each act, the deficit (gap times mass) that each
// pour-off leaves, and each flow. The hours of a leg with the valve shut are not.
type layout struct {
	order order
	ways  []int // by act: ln(gap at the start/gap); the last is that of the end, −1 if it is fixed
	left  []int // by leg: ln(deficit); −1 for that of the start
	flow  []int // by leg: ln(flow); −1 where the valve is shut
	wait  []int // by leg: hours; −1 where the valve is open
	size  int
}

// newLayout lays out the unknowns of an order. A free end may come below the tolerance.
func newLayout(o order, freeEnd bool) *layout {
	l := &layout{order: o}
	next := func() int { l.size++; return l.size - 1 }
	left, flow := -1, next()
	leg := func(a move) {
		wait := -1
		if a&shut != 0 {
			wait = next()
		}
		l.left, l.wait = append(l.left, left), append(l.wait, wait)
		if wait >= 0 {
			l.flow = append(l.flow, -1)
		} else {
			l.flow = append(l.flow, flow)
		}
	}
	leg(0)
	at := -1
	for i, a := range o {
		if i == 0 || o[i-1]&shut == 0 { // while the valve is shut the gap stays
			at = next()
		}
		l.ways = append(l.ways, at)
		if a&pour != 0 {
			left = next()
		}
		if a&set != 0 {
			flow = next()
		}
		leg(a)
	}
	if end := -1; freeEnd {
		end = next()
		l.ways = append(l.ways, end)
	} else {
		l.ways = append(l.ways, end)
	}
	return l
}
