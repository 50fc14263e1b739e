package followup

import (
	"saltlock/chem/instrument"
	"saltlock/chem/quantity"
)

// mark is how full the container is, as the keeper reads it: in centimetres if the latest such
// entry is a level, or if the shape is known and no volume was read.
func (f *following) mark(volume float64) quantity.Measure {
	v := litres(volume)
	for i := len(f.log) - 1; i >= 0; i-- {
		switch e := f.log[i]; {
		case e.Volume != nil:
			return v.Measure()
		case e.Level != nil:
			return f.levelOf(v)
		}
	}
	return f.levelOf(v)
}

// byLevel reports whether the keeper reads levels.
func (f *following) byLevel() bool {
	for i := len(f.log) - 1; i >= 0; i-- {
		if e := f.log[i]; e.Volume != nil || e.Level != nil {
			return e.Level != nil
		}
	}
	return false
}

// levelOf is a volume as a level, if the shape of the container is known.
func (f *following) levelOf(v quantity.Estimate[quantity.Volume]) quantity.Measure {
	level, err := f.base.Request.Container.Level(v.Value)
	if err != nil || level == nil {
		return v.Measure()
	}
	return quantity.Exactly(level.Value).Measure()
}

// misfit says that a number does not fit. For a salinity it says what the keeper's own
// instrument showed and what it should have shown.
func (f *following) misfit(j Judged) quantity.Note {
	if e := f.entry(j.Entry); j.What == "salinity" && e != nil && e.Salinity != nil {
		return noteOf("suspect_salinity", *e.Salinity, f.shown(*e, j.Expected.Value))
	}
	if e := f.entry(j.Entry); j.What == "volume" && e != nil && e.Level != nil {
		return noteOf("suspect_level", e.Level.Measure(), f.levelOf(litres(j.Expected.Value)))
	}
	return noteOf(suspectCodes[j.What], j.Read, j.Expected)
}

// entry is the entry of the log with a number.
func (f *following) entry(number int) *LogEntry {
	for i, n := range f.number {
		if n == number {
			return &f.log[i]
		}
	}
	return nil
}

// shown is what the instrument of an entry would show in a water; the practical salinity if it
// cannot show that.
func (f *following) shown(e LogEntry, sa float64) quantity.Reading {
	set := f.base.Request.Instrument
	if e.Instrument != nil {
		set = e.Instrument
	}
	celsius := float64(f.base.Request.From.Temperature.Value)
	if e.Temperature != nil {
		celsius = float64(e.Temperature.Value)
	}
	if set != nil {
		r, err := instrument.Show(quantity.AbsoluteSalinity(sa), quantity.Celsius(celsius), *set)
		if err == nil && r.Scale == e.Salinity.Scale {
			r.Convention = e.Salinity.Convention // the same as was sent
			return r
		}
	}
	return quantity.Reading{Value: sa / quantity.GramsPerPractical, Scale: quantity.PracticalScale}
}
