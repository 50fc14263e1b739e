package transfer

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"saltlock/chem/quantity"
)

// Nobody acts between 23:00 and 07:00 unless the keeper accepts it, and no drip runs for hours of
// the night without a look. A plan with a start that breaks this says so first, with the times,
// and offers a start or a route that does not. Proposed here.
const (
	nightFrom, nightUntil Clock = 23 * 60, 7 * 60
	mostUnseenAtNight           = 2.0 // h
	laterBy                     = 0.5 // h, from one start tried to the next
)

// atNight reports whether a time of day is in the night.
func atNight(at time.Time) bool {
	clock := Clock(at.Hour()*60 + at.Minute())
	return clock >= nightFrom || clock < nightUntil
}

// acts are the hours, in order, at which someone must do something after the start.
func (p *Plan) acts() []float64 {
	var all []float64
	for _, x := range p.Phases {
		if x.Kind != Hold {
			all = append(all, float64(x.Start.Value))
		}
		for i := 1; x.Kind == Cups && i < *x.Cups; i++ {
			all = append(all, float64(x.Start.Value)+float64(i)*float64(x.Every.Value))
		}
	}
	if p.Draw != nil {
		for _, c := range p.Draw.Charges {
			all = append(all, float64(c.Time.Value))
		}
	}
	all = slices.DeleteFunc(all, func(h float64) bool { return h <= soon })
	slices.Sort(all)
	return slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(a-b) < soon })
}

// nightly are the times on the keeper's clock of the acts that fall in the night, for a start so
// many hours later, and whether a drip runs through it unseen.
func (p *Plan) nightly(r Request, later float64) (acts []string, unseen bool) {
	for _, h := range p.acts() {
		if at := r.Clock(h + later); atNight(at) {
			acts = append(acts, at.Format("15:04"))
		}
	}
	for _, x := range p.Phases {
		if x.Kind != Fill && x.Kind != RunOver {
			continue
		}
		run := 0.0 // of night, so far
		for h := 0.0; h < float64(x.Duration.Value); h += laterBy {
			if run += laterBy; !atNight(r.Clock(float64(x.Start.Value) + h + later)) {
				run = 0
			}
			unseen = unseen || run > mostUnseenAtNight
		}
	}
	return slices.Compact(acts), unseen
}

// sayNight says of a plan that runs through the night that it does, and what would not. The rest of
// one that is under way cannot begin at another hour.
func (t *task) sayNight(ctx context.Context, p *Plan) error {
	r := t.request
	if r.Start == nil || t.trying || r.Visits != nil && r.Visits.QuietFrom != nil {
		return nil
	}
	acts, unseen := p.nightly(r, 0)
	if len(acts) == 0 && !unseen {
		return nil
	}
	n := noteOf("runs_through_night")
	if len(acts) > 0 {
		n = noteOf("acts_at_night", strings.Join(acts, ", "))
	}
	if r.Underway {
		t.warnings = append([]quantity.Note{n, noteOf("alarm_or_clamp")}, t.warnings...)
		return nil
	}
	way, err := t.dayOffer(ctx, p)
	t.warnings = append([]quantity.Note{n, way}, t.warnings...)
	return err
}

// dayOffer is the first start in the next 24 hours, on the half hour, with which the plan avoids
// the night; failing that, quiet hours, if there is a plan with them.
func (t *task) dayOffer(ctx context.Context, p *Plan) (quantity.Note, error) {
	r := t.request
	begin := r.Clock(0)
	half := float64(begin.Minute())/60 + float64(begin.Second())/3600
	for later := math.Ceil(half/laterBy)*laterBy - half; later < 24; later += laterBy {
		at := r.Clock(later)
		if atNight(at) || later <= soon {
			continue
		}
		if acts, unseen := p.nightly(r, later); len(acts) == 0 && !unseen {
			return noteOf("start_by_day", at.Format("15:04")), nil
		}
	}
	quiet := r
	var v Visits
	if r.Visits != nil {
		v = *r.Visits
	}
	v.QuietFrom, v.QuietUntil = new(nightFrom), new(nightUntil)
	quiet.Visits = &v
	if ok, err := plannable(ctx, quiet, t.budget); ok || err != nil {
		return noteOf("quiet_hours_would_do", nightFrom.String(), nightUntil.String()), err
	}
	return noteOf("alarm_for_each_act"), nil
}
