package followup

import (
	"errors"
	"slices"
	"time"

	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
	"saltlock/chem/transfer"
)

// Behaviour is how the animals looked at a visit.
type Behaviour string

// The behaviours. All but Calm stop a plan: signs of distress, and a moult, which needs rest.
const (
	Calm          Behaviour = "ok"
	LossOfBalance Behaviour = "loss_of_balance"
	Gasping       Behaviour = "gasping"
	HeavyMucus    Behaviour = "heavy_mucus"
	NotFeeding    Behaviour = "not_feeding" // for 24 h after the release
	Moults        Behaviour = "moult"
)

func (b Behaviour) known() bool {
	return slices.Contains([]Behaviour{Calm, LossOfBalance, Gasping, HeavyMucus, NotFeeding, Moults}, b)
}

// LogEntry is what the keeper read and saw at one visit. Nil fields were not observed.
type LogEntry struct {
	Time        *time.Time                            `json:"time,omitempty"`
	Salinity    *quantity.Reading                     `json:"salinity,omitempty"`
	Instrument  *instrument.Setup                     `json:"instrument,omitempty"` // nil means that of the plan
	Temperature *quantity.Estimate[quantity.Celsius]  `json:"temperature,omitempty"`
	Volume      *quantity.Estimate[quantity.Volume]   `json:"volume,omitempty"` // in the container
	Level       *quantity.Estimate[quantity.Length]   `json:"level,omitempty"`  // of the water, instead
	Drops       *int                                  `json:"drops,omitempty"`  // counted
	DropsIn     *quantity.Estimate[quantity.Duration] `json:"drops_in,omitempty"`
	Cups        *int                                  `json:"cups,omitempty"` // poured in since the start
	Event       *Event                                `json:"event,omitempty"`
	Behaviour   *Behaviour                            `json:"behaviour,omitempty"`
	Note        *string                               `json:"note,omitempty"`

	TAN     *quantity.Estimate[quantity.AmmoniaNitrogen] `json:"tan,omitempty"`
	Nitrite *quantity.Estimate[quantity.NitriteNitrogen] `json:"nitrite,omitempty"`
}

// The ranges of what can be read. The longest time is that of a ramp.
var (
	entryTime    = quantity.Range[quantity.Duration]{Lo: 0, Hi: 366 * 24}
	entryLevel   = quantity.Range[quantity.Length]{Lo: 0.1, Hi: 1e3}
	countingTime = quantity.Range[quantity.Duration]{Lo: 1. / 3600, Hi: 1}
	entryTAN     = quantity.Range[quantity.AmmoniaNitrogen]{Lo: 0, Hi: 100}
	entryNitrite = quantity.Range[quantity.NitriteNitrogen]{Lo: 0, Hi: 100}
)

// Fault is what is wrong with one field of an entry.
type Fault struct {
	Field string // as it is sent; empty if the entry is empty
	Err   error
}

// Check returns every fault of an entry in the log of a transfer with this request, which has
// a start.
func (e LogEntry) Check(r transfer.Request) error {
	var all []error
	for _, fault := range e.faults(r) {
		all = append(all, fault.Err)
	}
	return errors.Join(all...)
}

// Usable removes what is wrong with an urgent entry, and says what it removed. An impossible
// time becomes now, but trouble of the last day before a start that lies ahead keeps its time.
func (e LogEntry) Usable(r transfer.Request, now time.Time) (LogEntry, []Fault) {
	faults := slices.DeleteFunc(e.faults(r), func(x Fault) bool { return x.Field == "time" && e.early(*r.Start, now) })
	for _, fault := range faults {
		switch fault.Field {
		case "time":
			e.Time = &now
		case "temperature":
			e.Temperature = nil
		case "volume":
			e.Volume = nil
		case "level":
			e.Level = nil
		case "drops_in":
			e.Drops, e.DropsIn = nil, nil
		case "tan":
			e.TAN = nil
		case "nitrite":
			e.Nitrite = nil
		case "behaviour":
			e.Behaviour = nil
		case "salinity":
			e.Salinity = nil
		}
	}
	return e.atStart(*r.Start, now), faults
}

// faults lists what is wrong, by the field that is useless because of it.
func (e LogEntry) faults(r transfer.Request) []Fault {
	var list []Fault
	add := func(field string, err error) {
		if err != nil {
			list = append(list, Fault{field, err})
		}
	}
	add("time", e.inTime(r))
	add("temperature", within(transfer.PlannedTemperature, "temperature", e.Temperature))
	add("volume", within(transfer.ContainerVolume, "volume", e.Volume))
	add("level", within(entryLevel, "level", e.Level))
	add("drops_in", within(countingTime, "drops_in", e.DropsIn))
	add("tan", within(entryTAN, "tan", e.TAN))
	add("nitrite", within(entryNitrite, "nitrite", e.Nitrite))
	if !e.read() && e.Temperature == nil && e.Drops == nil && e.TAN == nil && e.Nitrite == nil && e.Behaviour == nil && e.Event == nil {
		add("", lacks("salinity", "a reading holds a salinity, a volume or level, cups poured in, a temperature, drops that were counted, ammonia, nitrite, or how the animals behave", quantity.Note{Code: "entry_empty"}))
	}
	if e.Event != nil && !e.Event.known() {
		add("event", lacks("event", string(*e.Event)+" is nothing to report; a stopped transfer goes on by POST restart", quantity.Note{}))
	}
	if (e.Drops == nil) != (e.DropsIn == nil) {
		add("drops_in", lacks("drops_in", "drops are counted in a time; give drops and drops_in, as 16 and 10 s", quantity.Note{Code: "drops_need_time"}))
	}
	if e.Level != nil && r.Container.Shape == nil {
		add("level", lacks("volume", "the plan does not know the shape of the container, so a level does not give the volume", quantity.Note{Code: "level_without_shape"}))
	}
	if e.Level != nil && e.Volume != nil {
		add("level", &instrument.ConflictError{Name: "level", Other: "volume", Why: "both tell how full the container is; give one",
			Note: quantity.Note{Code: "level_or_volume"}})
	}
	if e.Behaviour != nil && !e.Behaviour.known() {
		add("behaviour", lacks("behaviour", string(*e.Behaviour)+" is none of the behaviours", quantity.Note{}))
	}
	if e.Salinity != nil {
		_, err := e.salinity(r)
		add("salinity", err)
	}
	return list
}

// lacks is the fault of an entry without something that it needs.
func lacks(name, why string, said quantity.Note) error {
	return &instrument.MissingError{Name: name, Why: why, Note: said}
}

// inTime checks that the entry was made during the transfer.
func (e LogEntry) inTime(r transfer.Request) error {
	err := entryTime.Check("time", quantity.Duration(e.Time.Sub(*r.Start).Hours()))
	if limit, ok := errors.AsType[*quantity.RangeError](err); ok {
		limit.Unit = "h after the start"
	}
	return err
}

// hours is when the entry was made, after the start. What was reported before counts from there.
func (e LogEntry) hours(r transfer.Request) float64 { return max(0, e.Time.Sub(*r.Start).Hours()) }

// moults reports whether an animal was seen to moult.
func (e LogEntry) moults() bool { return e.Behaviour != nil && *e.Behaviour == Moults }

// Distressed reports whether the animals showed a sign that stops the plan.
func (e LogEntry) Distressed() bool {
	return e.Behaviour != nil && e.Behaviour.known() && *e.Behaviour != Calm
}

// The uncertainty of a reading that does not state one: without an instrument, that of common
// ones; for a cup or mark, what can be read by hand.
const (
	unknownInstrument = 1.0  // g/kg; those of the trade are good to 0.5 to 2
	usualMarks        = 0.03 // of the volume
	usualLevel        = 0.3  // cm
)

// onPrism reports whether the water was read on the prism of a refractometer that compensates, and was
// then colder or warmer than such a prism ever is: a few drops take its temperature within half a minute,
// so that of the water is not theirs. Common practice, no source.
func onPrism(set instrument.Setup, water quantity.Celsius) bool {
	compensates := set.TemperatureCompensated != nil && *set.TemperatureCompensated
	return compensates && set.Kind != nil && *set.Kind == instrument.Refractometer && (water < 10 || water > 30)
}

// salinity resolves a reading, with its standard uncertainty as a salinity.
func (e LogEntry) salinity(r transfer.Request) (quantity.Estimate[quantity.AbsoluteSalinity], error) {
	set := instrument.Setup{}
	if e.Instrument != nil {
		set = *e.Instrument
	} else if r.Instrument != nil {
		set = *r.Instrument
	}
	var at *quantity.Celsius
	warmth := quantity.Input{Name: "temperature", Value: 25}
	if e.Temperature != nil && !onPrism(set, e.Temperature.Value) {
		at = &e.Temperature.Value
		warmth = quantity.Input{Name: "temperature", Value: float64(*at), U: float64(e.Temperature.U)}
	}
	sa, _, err := quantity.Propagate[quantity.AbsoluteSalinity](func(x []float64) (float64, error) {
		read := *e.Salinity
		read.Value = x[0]
		if at != nil {
			at = new(quantity.Celsius(x[1]))
		}
		sa, err := instrument.AbsoluteSalinity(read, at, set)
		return float64(sa), err
	}, 0, quantity.Input{Name: "salinity", Value: e.Salinity.Value, U: e.Salinity.U}, warmth)
	if err != nil {
		return sa, instrument.Named("salinity", err)
	}
	if err := transfer.PlannedSalinity.Check("salinity", sa.Value); err != nil || e.Salinity.U > 0 {
		return sa, err
	}
	own, err := instrument.DefaultUncertainty(set, sa.Value, quantity.Celsius(warmth.Value))
	if own == 0 {
		own = unknownInstrument
	}
	sa.U = max(sa.U, own)
	return sa, err
}
