package transfer

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// Visits is when someone can come to the container to look, set the valve, pour off and release.
// Without it someone is there whenever the plan asks.
type Visits struct {
	Every      *quantity.Estimate[quantity.Duration] `json:"every,omitempty"`       // least time from one visit to the next
	First      *quantity.Estimate[quantity.Duration] `json:"first,omitempty"`       // least time from the start to the first; nil is that of the first look, or Every if less
	QuietFrom  *Clock                                `json:"quiet_from,omitempty"`  // nobody comes from then on
	QuietUntil *Clock                                `json:"quiet_until,omitempty"` // until then, every day
}

// Clock is a time of day, in minutes after midnight; it reads and prints as 22:30.
type Clock int

// UnmarshalText reads hours and minutes, from 00:00 to 23:59.
func (c *Clock) UnmarshalText(text []byte) error {
	at, err := time.Parse("15:04", string(text))
	if err != nil {
		return &quantity.ParseError{Given: string(text), Reason: "is no time of day; write it as 22:30, from 00:00 to 23:59", Note: &quantity.Note{Code: "no_time_of_day"}}
	}
	*c = Clock(at.Hour()*60 + at.Minute())
	return nil
}

// MarshalText prints hours and minutes.
func (c Clock) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// Zone is a time zone by its IANA name, such as Europe/Berlin.
type Zone struct{ location *time.Location }

// ofOneMachine reports names that are not in the IANA database or that only some machines have;
// right/ counts leap seconds.
func ofOneMachine(name string) bool {
	switch folder, _, _ := strings.Cut(name, "/"); folder {
	case "Local", "localtime", "posixrules", "Factory", "right", "posix":
		return true
	}
	return false
}

// UnmarshalText looks the name up.
func (z *Zone) UnmarshalText(text []byte) error {
	name := string(text)
	location, err := time.LoadLocation(name)
	if err != nil || name == "" || ofOneMachine(name) {
		return &quantity.ParseError{Given: name, Reason: "is no time zone; name one of the IANA data base, as Europe/Berlin or America/New_York", Note: &quantity.Note{Code: "no_time_zone"}}
	}
	z.location = location
	return nil
}

// MarshalText prints the name.
func (z Zone) MarshalText() ([]byte, error) { return []byte(z.String()), nil }

func (z Zone) String() string { return z.location.String() }

// timetable is Visits on plain numbers: hours from the start of the plan.
type timetable struct {
	every, first float64
	quiet        [][2]float64 // nobody comes within; in order of time
}

// horizon is how many days ahead quiet hours are written out: longer than any drip lasts.
const horizon = 366

// timetable resolves the visits; nil if someone can always come.
func (t *task) timetable() (*timetable, error) {
	given := t.request.Visits
	if given == nil {
		return nil, nil
	}
	table := &timetable{}
	if given.Every != nil {
		table.every = float64(given.Every.Value)
	}
	table.first = min(table.every, firstLook)
	if given.First != nil {
		table.first = float64(given.First.Value)
	}
	from, until := given.QuietFrom, given.QuietUntil
	switch {
	case from == nil && until == nil:
		return table, nil
	case from == nil:
		return nil, &instrument.MissingError{Name: "visits.quiet_from", Why: "quiet hours have a beginning, too, as 22:30", Note: quantity.Note{Code: "quiet_from_missing"}}
	case until == nil:
		return nil, &instrument.MissingError{Name: "visits.quiet_until", Why: "quiet hours must end, as at 07:00", Note: quantity.Note{Code: "quiet_until_missing"}}
	case t.request.Start == nil:
		return nil, &instrument.MissingError{Name: "start", Why: "quiet hours can only be kept from a start with its date and time", Note: quantity.Note{Code: "quiet_needs_start"}}
	case *from == *until:
		t.refuse("visits.quiet_until", noteOf("quiet_hours_never_end", from.String()))
		return table, nil
	}
	table.write(t.localStart(), *from, *until)
	if free := table.next(0); free > 0 {
		t.warn(noteOf("start_in_quiet_hours", from.String(), until.String(), hours(free)))
	}
	return table, nil
}

// localStart is the start on the clock of the keeper.
func (t *task) localStart() time.Time { return t.request.Clock(0) }

// Clock is the time on the keeper's clock so many hours after the start, which must be given. It is
// rounded to the nearest minute: what hours keep of a time falls short of it by nanoseconds.
func (r Request) Clock(hours float64) time.Time {
	at := r.Start.Add(time.Duration(hours * float64(time.Hour))).Round(time.Minute)
	if r.TimeZone != nil {
		return at.In(r.TimeZone.location)
	}
	return at
}

// write writes out the quiet hours of every day. On days when clocks change, those hours are
// shorter or longer.
func (v *timetable) write(start time.Time, from, until Clock) {
	year, month, day := start.Date()
	on := func(day int, c Clock) float64 {
		return time.Date(year, month, day, 0, int(c), 0, 0, start.Location()).Sub(start).Hours()
	}
	over := 0 // midnight
	if until < from {
		over = 1
	}
	for d := day - 1; d <= day+horizon; d++ {
		v.quiet = append(v.quiet, [2]float64{on(d, from), on(d+over, until)})
	}
}

// next returns the first moment, at the given one or later, when someone can come.
func (v *timetable) next(at float64) float64 {
	i := sort.Search(len(v.quiet), func(i int) bool { return v.quiet[i][1] > at+soon })
	if i < len(v.quiet) && v.quiet[i][0]+soon < at {
		return v.quiet[i][1]
	}
	return at
}

// soon is how much two moments may differ and still be the same, h.
const soon = 1e-7

// due returns the earliest time the keeper, who last came at one moment, can come again for what
// is ready at another.
func (v *timetable) due(last, ready float64) float64 {
	apart := v.every
	if last == 0 {
		apart = v.first
	}
	if earliest := last + apart; ready < earliest-soon {
		ready = earliest
	}
	return v.next(ready)
}

// held is how long animals are held after an end that someone attends, with so much rest, until
// someone can release them.
func (v *timetable) held(end, rest float64) float64 {
	if v == nil {
		return rest
	}
	return v.due(end, end+rest) - end
}

// released is when animals that are ready at a moment can be released.
func (v *timetable) released(ready float64) float64 {
	if v == nil {
		return ready
	}
	return v.next(ready)
}

// mostOften is how often to look at a drip that runs as it should, h. Common practice, no source.
const mostOften = 1

// looks returns when to look at a stage between the acts at its ends. Without visits that is once,
// half an hour after the start, for which the keeper stays.
func (v *timetable) looks(from, to float64) []float64 {
	if v == nil {
		v = &timetable{}
	}
	var all []float64
	first := max(firstLook, v.first)
	for last, apart := from, max(v.every, mostOften); ; {
		at, room := v.next(last+apart), v.every
		if from < first && len(all) == 0 {
			at, room = v.next(first), 0
		} else if v.every == 0 {
			return all
		}
		if at >= to-room-soon {
			return all
		}
		all = append(all, at)
		last = at
	}
}

// ahead are the quiet hours that end after the start.
func (v *timetable) ahead() [][2]float64 {
	i := sort.Search(len(v.quiet), func(i int) bool { return v.quiet[i][1] > soon })
	return v.quiet[i:]
}

// shifted is the timetable of a plan that starts some hours later.
func (v *timetable) shifted(by float64) *timetable {
	later := &timetable{every: v.every, first: v.first}
	for _, q := range v.quiet {
		later.quiet = append(later.quiet, [2]float64{q[0] - by, q[1] - by})
	}
	return later
}
