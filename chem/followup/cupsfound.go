package followup

import (
	"context"
	"math"
	"slices"

	"saltlock/chem/quantity"
)

// cupsFound is the water by numbers that agree with each other and not with the cups that were taken
// as poured in or poured off.
type cupsFound struct {
	volume, salt float64 // L and g/kg
	why          quantity.Note
}

// findCups looks for what explains the numbers of an entry if the count of cups, or a pour-off that
// nobody logged, does not. How full the container is and its salinity agree if nothing was poured off
// since the first cup: conservation of salt. A count that agrees with how full it is does, too.
func (f *following) findCups(p *cupCount, e LogEntry, sa, volume reading) {
	if volume.u == 0 || p.misses(p.in, sa, volume) < suspectFrom*suspectFrom {
		return
	}
	cups, start := f.cupsOf(f.course.Legs[0].Plan)

	if volume.value < start-unlikely*volume.u || len(cups) == 0 {
		return
	}
	cup := cups[0].litres
	whole := f.base.To - (f.base.To-f.base.From)*start/max(start, volume.value) // nothing was poured off
	in := int(math.Round((volume.value - start) / cup))
	counts := e.Cups != nil && math.Abs(volume.value-start-float64(*e.Cups)*cup) < max(unlikely*volume.u, cup/2)
	salt := sa.u > 0 && math.Abs(sa.value-whole) < unlikely*sa.u
	switch before := f.leg().Cups; {
	case salt && e.Cups != nil && !counts:
		p.found = &cupsFound{volume.value, sa.value, noteOf("why_cups_counted", *e.Cups, f.mark(volume.value), *e.Salinity, in)}
	case salt && counts && f.leg().Cups > *e.Cups:
		in = *e.Cups
		p.found = &cupsFound{volume.value, sa.value, noteOf("why_cups_corrected", before, in)}
	case counts && (salt || sa.u == 0) && poursOff(cups, *e.Cups):
		p.found = &cupsFound{volume.value, whole, noteOf("why_not_poured_off", f.mark(volume.value))}
		in = *e.Cups
	case salt:
		p.found = &cupsFound{volume.value, sa.value, noteOf("why_cups_by_water", f.mark(volume.value), *e.Salinity)}
	default:
		return
	}
	p.in, p.sure, p.lost, p.guessed = in-f.leg().Cups, true, false, false
}

// poursOff reports whether a plan pours off before so many of its cups are in.
func poursOff(cups []cup, n int) bool {
	return slices.ContainsFunc(cups[:max(0, min(n, len(cups)))], func(c cup) bool { return c.pourTo > 0 })
}

// cupsFoundAnew goes on from the water that agreeing numbers show.
func (f *following) cupsFoundAnew(ctx context.Context, p cupCount) error {
	f.course.Why = append(f.course.Why, p.found.why)
	p.due, p.may = p.in, p.in
	return f.cupsAnew(ctx, p)
}
