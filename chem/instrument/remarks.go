package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// corrections tells what was corrected, and what it changed.
func (m *measurement) corrections(sa quantity.AbsoluteSalinity) []quantity.Note {
	notes := []quantity.Note{}
	if m.sensor.believed == nil {
		return notes
	}
	believed, err := m.sensor.believed(m.reading.Value)
	if err != nil { // no salinity at all without the correction
		return append(notes, m.sensor.remark(m.temperature, nil))
	}
	return append(notes, m.sensor.remark(m.temperature, new(quantity.Exactly(sa-believed))))
}

// assumptions tells what was taken that the request, whose temperature may be
// assumed and whose setup is given, did not say.
func (m *measurement) assumptions(assumed bool, given Setup) []quantity.Note {
	notes := []quantity.Note{}
	if assumed {
		notes = append(notes, note("temperature_assumed", m.temperature))
	}
	if given.Calibration == nil && m.reading.Convention == nil && m.setup.Calibration != nil {
		notes = append(notes, note("convention_assumed", *m.setup.Calibration))
	}
	if given.Scale == nil && m.setup.Scale != nil {
		notes = append(notes, note("scale_assumed", string(*m.setup.Scale)))
	}
	if given.TemperatureCompensated == nil && m.setup.TemperatureCompensated != nil {
		notes = append(notes, note("refractometer_compensation_assumed"))
	}
	if given.ZeroTemperature == nil && m.setup.ZeroTemperature != nil {
		notes = append(notes, note("zero_temperature_assumed", *m.setup.ZeroTemperature))
	}
	if given.Compensation == nil && m.setup.Compensation != nil {
		notes = append(notes, note("meter_compensation_assumed", m.setup.Compensation.String()))
	}
	if !m.stated && m.reading.U > 0 {
		half := m.reading
		half.Value, half.U = m.reading.U, 0
		notes = append(notes, note("half_division_assumed", half))
	}
	return notes
}

// sources are the measures that are used past the ranges their sources give.
var sources = []struct {
	measure     slot
	temperature quantity.Range[quantity.Celsius]
	salinity    quantity.Range[quantity.Salinity]
}{
	{practicalSalinity, operating, quantity.Range[quantity.Salinity]{Lo: 0, Hi: greatestPractical}},
	{conductivity, quantity.Range[quantity.Celsius]{Lo: 0, Hi: 35}, quantity.Range[quantity.Salinity]{Lo: 0, Hi: greatestPractical}},
	{refractiveIndex, quantity.Range[quantity.Celsius]{Lo: 0, Hi: refractionMeasured}, quantity.Range[quantity.Salinity]{Lo: 0, Hi: greatestRefractive}},
	{freezingPoint, operating, quantity.Range[quantity.Salinity]{Lo: 4, Hi: 40}},
}

// remarks warns of measures that are missing, and of those given though their
// source does not reach so far.
func (m *measurement) remarks(a *answers, sp quantity.Salinity) []quantity.Note {
	notes := []quantity.Note{}
	if a.faults != nil {
		for s := range slots {
			if err, missing := a.faults[s]; missing {
				notes = append(notes, outOfRange(s.name(), err))
			}
		}
	}
	for _, s := range sources {
		if !a.in.has(s.measure) {
			continue
		}
		if !s.temperature.Contains(m.temperature.Value) {
			notes = append(notes, note("measure_past_source", s.measure.name(), s.temperature.String()))
		}
		if !s.salinity.Contains(sp) {
			notes = append(notes, note("measure_past_source", s.measure.name(), s.salinity.String()))
		}
	}
	return append(notes, m.instrumentRemarks(sp)...)
}

// instrumentRemarks warns of what the instrument cannot tell.
func (m *measurement) instrumentRemarks(sp quantity.Salinity) []quantity.Note {
	var notes []quantity.Note
	kind := m.setup.kind()
	conducts := m.reading.Scale == quantity.ConductivityScale || kind == ConductivityMeter || kind == TDSMeter
	if conducts && sp < dilute {
		notes = append(notes, note("sea_salt_equivalent", quantity.Exactly(dilute)))
	}
	if shown := m.conductivityShown(); shown >= penLimit {
		notes = append(notes, note("pen_may_be_over_range", quantity.Exactly(penLimit)))
	}
	if kind == PointerHydrometer && m.setup.Correction == nil {
		notes = append(notes, note("pointer_needs_calibration", quantity.Exactly(PointerUncertainty)))
	}
	if kind == Refractometer && *m.setup.TemperatureCompensated && !compensates.Contains(m.temperature.Value) {
		notes = append(notes, note("compensation_past_range", compensates.String()))
	}
	if m.setup.Correction != nil {
		notes = append(notes, note("correction_used", m.setup.Correction.String()))
	}
	return notes
}

// penLimit is where the display of many pens ends (from memory).
const penLimit quantity.Conductivity = 20

// conductivityShown returns the conductivity on the display of a pen, 0 if it is none.
func (m *measurement) conductivityShown() quantity.Conductivity {
	switch {
	case m.setup.kind() == ConductivityMeter && m.reading.Scale == quantity.ConductivityScale:
		return quantity.Conductivity(m.reading.Value)
	case m.setup.kind() == TDSMeter && m.reading.Scale == quantity.PenScale:
		return quantity.Conductivity(m.reading.Value / *m.setup.TdsFactor / 1000)
	case m.setup.kind() == TDSMeter:
		return quantity.Conductivity(m.reading.Value / *m.setup.TdsFactor)
	}
	return 0
}

// dilute is the practical salinity under which tap water's own ions may decide
// the conductivity, and under which PSS-78 needs its extension.
const dilute quantity.Salinity = 2

// keys returns the methods used, each once.
func (m *measurement) keys(a *answers, sp quantity.Salinity) []string {
	used := m.sensor.methods | methodsOf(seawater.ZoneMethod)
	for s := range slots {
		if a.in.has(s) {
			used |= described[s.kind()].method
		}
	}
	if sp < dilute && a.in.has(conductivity25) {
		used |= methodsOf(seawater.LowConductivityMethod)
	}
	return (used | m.halfDivision()).keys()
}

// halfDivision is the method of that name where the reading's uncertainty comes from it.
func (m *measurement) halfDivision() methodSet {
	if !m.stated && m.reading.U > 0 {
		return methodsOf(HalfDivisionMethod)
	}
	return 0
}

func note(code quantity.Code, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}
