package site

import (
	"slices"
	"strings"
	"time"
)

// bucketView is what the page at the bucket shows.
type bucketView struct {
	*saved
	tongue     tongue
	Now        now
	Result     *result
	PowerIsOff bool
	Bells      bool // of jellyfish, which bubbles tear
	Running    bool // a plan is in force
	Overdue    bool // nobody did what the plan had
	Chart      bool
	Asked      time.Time  // when the page was asked for
	Done       *time.Time // when the animals are over, by the plan in force
	zone       *time.Location
}

// ChartPath, CalendarPath and CardPath are where other forms of the plan are had.
func (v *bucketView) ChartPath() string { return "/v1/transfers/" + v.ID + "/chart.svg" }

// CalendarPath is that of the calendar.
func (v *bucketView) CalendarPath() string { return "/v1/transfers/" + v.ID + "/calendar.ics" }

// CardPath is that of the card.
func (v *bucketView) CardPath() string { return "/t/" + v.ID + "/card" }

// Act is the one thing to do. Before anything is logged that is the first step of the
// plan; the service has only to say that nothing is logged.
func (v *bucketView) Act() string {
	if v.Overdue { // which what was logged before says nothing about
		return v.Now.Next.Text
	}
	if v.Preparing() && len(v.Result.Steps) > 0 {
		return v.Result.Begin + " " + v.tongue.says("Then:") + " " + strings.Join(v.Result.Steps[0].Texts, " ")
	}
	if v.Now.Verdict == "not_begun" && !strings.HasPrefix(v.Now.Act.Code, "now_look") && v.Result != nil && len(v.Result.Steps) > 0 && len(v.Result.Days) == 0 {
		return strings.Join(v.Result.Steps[0].Texts, " ")
	}
	_, act := v.calm()
	return act
}

// calm parts an act that begins with all being well from that beginning.
func (v *bucketView) calm() (calm, act string) {
	first, rest, more := strings.Cut(v.Now.Act.Text, ". ")
	if more && slices.Contains([]string{"now_go_on", "now_pour", "now_pour_and_fill", "now_set", "now_run_over", "now_until_change"}, v.Now.Act.Code) {
		return first + ".", rest
	}
	return "", v.Now.Act.Text
}

// Calm says that all is well, where that is so.
func (v *bucketView) Calm() string {
	if v.Overdue || v.Now.Verdict == "not_begun" {
		return ""
	}
	calm, _ := v.calm()
	return calm
}

// shortly is how long what an entry was answered with is what to do now.
const shortly = 10 * time.Minute

// atRest are acts that leave things alone, of which none can be done already.
var atRest = []string{"now_go_on", "now_run_over", "now_wait", "now_watch", "now_hold", "now_leave_until", "now_until_change", "now_next_cup", "now_next_cup_off", "act_change_nothing", "act_leave_closed", "now_look_first"}

// Said is when the act was said, where that is a while ago.
func (v *bucketView) Said() *time.Time {
	if last := v.Now.LastEntry; last != nil && !v.Overdue && !slices.Contains(atRest, v.Now.Act.Code) && (v.Now.Verdict == "on_course" || v.Now.Verdict == "corrected") && time.Since(*last) > shortly {
		return last
	}
	return nil
}

// First is the act in one sentence, Rest what it goes on with.
func (v *bucketView) First() string {
	first, _, more := strings.Cut(v.Act(), ". ")
	if more {
		first += "."
	}
	return first
}

// Rest is what the act goes on with.
func (v *bucketView) Rest() string {
	_, rest, _ := strings.Cut(v.Act(), ". ")
	return rest
}
