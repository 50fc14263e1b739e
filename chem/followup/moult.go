package followup

import "saltlock/chem/quantity"

// moulting is the latest moult that was seen since the plan was stopped, if that is less than two
// days ago: until then the animal is soft.
func (f *following) moulting() (e LogEntry, soft bool) {
	for i := len(f.log) - 1; f.state.stopped >= 0 && i >= f.state.stopped; i-- {
		if e = f.log[i]; e.moults() {
			return e, float64(f.course.Time.Value)-e.hours(f.base.Request) < 2*restAfterMoult
		}
	}
	return e, false
}

// sparesTheMoulting says in every answer after a moult how that animal is left alone, or how it is
// moved if all of them have to be. Common practice, no source.
func (f *following) sparesTheMoulting() {
	c := f.course
	e, soft := f.moulting()
	if !soft || f.released {
		return
	}
	if seen := noteOf("moult_seen", f.when(e)); !tells(c.Why, seen.Code) {
		c.Why = append(c.Why, seen)
	}
	leave := noteOf("then_leave_the_moulting")
	for _, move := range []quantity.Code{"act_look_under", "now_stop_leak", "move_half_way", f.movesToClean()} {
		if tells(append(c.Then, c.Now), move) {
			leave = noteOf("then_move_the_moulting")
		}
	}
	for i, n := range c.Then {
		if n.Code == "then_leave_the_moulting" {
			c.Then[i] = leave
			return
		}
	}
	c.Then = append(c.Then, leave)
}
