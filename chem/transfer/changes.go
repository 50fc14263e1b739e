package transfer

import (
	"math"
	"strconv"
	"time"

	"saltlock/chem/quantity"
)

// What refusals offer, with a constructor for each field. Values are rounded to three digits, to
// the side on which they work.

// offered is how many digits an offer has.
const offered = 3

// roundedUp and roundedDown round a positive number to the digits of an offer.
func roundedUp(x float64) float64   { return rounded(x, math.Ceil, 1-inside) }
func roundedDown(x float64) float64 { return rounded(x, math.Floor, 1+inside) }

func rounded(x float64, to func(float64) float64, slack float64) float64 {
	if x <= 0 {
		return 0
	}
	unit := math.Pow(10, math.Ceil(math.Log10(x))-offered)
	y, _ := strconv.ParseFloat(strconv.FormatFloat(to(x/unit*slack)*unit, 'g', offered, 64), 64) // it wrote the number itself
	return y
}

func volumeTo(where string, litre float64, of func(c *Container) **quantity.Estimate[quantity.Volume]) Change {
	v := litres(litre)
	return Change{where, v.String(), func(r *Request) { *of(&r.Container) = &v }}
}

func startTo(litre float64) Change {
	return volumeTo("container.start_volume", litre, func(c *Container) **quantity.Estimate[quantity.Volume] { return &c.StartVolume })
}

func capacityTo(litre float64) Change {
	return volumeTo("container.capacity", litre, func(c *Container) **quantity.Estimate[quantity.Volume] { return &c.Capacity })
}

func leastTo(litre float64) Change {
	return volumeTo("container.least_volume", litre, func(c *Container) **quantity.Estimate[quantity.Volume] { return &c.LeastVolume })
}

func wasteTo(litre float64) Change {
	return volumeTo("container.waste_capacity", litre, func(c *Container) **quantity.Estimate[quantity.Volume] { return &c.WasteCapacity })
}

func freeboardTo(litre float64) Change {
	return volumeTo("container.freeboard", litre, func(c *Container) **quantity.Estimate[quantity.Volume] { return &c.Freeboard })
}

func noFreeboard() Change {
	return Change{"container.freeboard", "", func(r *Request) { r.Container.Freeboard = nil }}
}

func switched(where string, on bool, of func(c *Container) **bool) Change {
	return Change{where, strconv.FormatBool(on), func(r *Request) { *of(&r.Container) = &on }}
}

func aerated() Change {
	return switched("container.aerated", true, func(c *Container) **bool { return &c.Aerated })
}
func heated() Change {
	return switched("container.heated", true, func(c *Container) **bool { return &c.Heated })
}
func overflowing(on bool) Change {
	return switched("container.overflow", on, func(c *Container) **bool { return &c.Overflow })
}

// onLine changes a copy of the line, which requests share.
func onLine(where, value string, change func(l *Line)) Change {
	return Change{where, value, func(r *Request) {
		var l Line
		if r.Line != nil {
			l = *r.Line
		}
		change(&l)
		r.Line = &l
	}}
}

func leastDripTo(perSecond float64) Change {
	d := drops(perSecond)
	return onLine("line.least_drip", d.String(), func(l *Line) { l.LeastDrip = &d })
}

func greatestDripTo(perSecond float64) Change {
	d := drops(perSecond)
	return onLine("line.greatest_drip", d.String(), func(l *Line) { l.GreatestDrip = &d })
}

func dropTo(litre float64) Change {
	v := litres(litre)
	return onLine("line.drop_volume", v.String(), func(l *Line) { l.DropVolume = &v })
}

func headTo(cm float64) Change {
	h := centimetres(cm)
	return onLine("line.head", h.String(), func(l *Line) { l.Head = &h })
}

func boreTo(cm float64) Change {
	b := centimetres(cm)
	return onLine("line.bore", b.String(), func(l *Line) { l.Bore = &b })
}

func intakeTo(cm float64) Change {
	d := centimetres(math.Round(cm*10) / 10)
	return onLine("line.intake_depth", d.String(), func(l *Line) { l.IntakeDepth = &d })
}

func routeTo(way Route) Change {
	return Change{"route", string(way), func(r *Request) { r.Route = &way }}
}

func toleranceTo(grams float64) Change {
	e := salinity(grams)
	return Change{"tolerance", e.String(), func(r *Request) { r.Tolerance = &e }}
}

func recentTo(grams float64) Change {
	e := salinity(grams)
	return Change{"recent_change", e.String(), func(r *Request) { r.RecentChange = &e }}
}

func warmthTo(degrees float64) Change {
	e := celsius(degrees)
	return Change{"to.temperature", e.String(), func(r *Request) { r.To.Temperature = e }}
}

func targetTo(sa float64) Change {
	r := quantity.Reading{Value: math.Round(sa/quantity.GramsPerPractical*10) / 10, Scale: quantity.PracticalScale}
	return Change{"to.salinity", r.String(), func(q *Request) { q.To.Salinity = r }}
}

func countTo(n int) Change {
	return Change{"animals.0.count", strconv.Itoa(n), func(r *Request) { r.Animals[0].Count = &n }}
}

func feedTo(f Feed) Change {
	return Change{"feed", string(f), func(r *Request) { r.Feed = &f }}
}

func startingAt(at time.Time) Change {
	return Change{"start", at.Format(time.RFC3339), func(r *Request) { r.Start = &at }}
}

func visitsEvery(h float64) Change {
	e := hours(h)
	return Change{"visits.every", e.String(), func(r *Request) {
		v := *r.Visits
		v.Every = &e
		r.Visits = &v
	}}
}

// noVisits takes out what was said about visits; nothing, if a part of a longer move was not asked
// about them itself.
func noVisits(v *Visits) []Change {
	out := []Change{}
	if v == nil {
		return out
	}
	gone := func(where string, given bool) {
		if given {
			out = append(out, Change{"visits." + where, "", func(r *Request) { r.Visits = nil }})
		}
	}
	gone("every", v.Every != nil)
	gone("first", v.First != nil)
	gone("quiet_from", v.QuietFrom != nil)
	gone("quiet_until", v.QuietUntil != nil)
	return out
}

func tanksOf(litre float64) Change {
	v := litres(litre)
	return Change{"holding_tanks.volume", v.String(), func(r *Request) {
		var h HoldingTanks
		if r.HoldingTanks != nil {
			h = *r.HoldingTanks
		}
		h.Volume = &v
		r.HoldingTanks = &h
	}}
}

func tanksTo(n int) Change {
	return Change{"holding_tanks.count", strconv.Itoa(n), func(r *Request) {
		h := *r.HoldingTanks
		h.Count = &n
		r.HoldingTanks = &h
	}}
}

func anyShare() Change {
	return Change{"home_tank.greatest_share", "", func(r *Request) {
		h := *r.HomeTank
		h.GreatestShare = nil
		r.HomeTank = &h
	}}
}
