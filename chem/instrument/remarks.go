package instrument

import (
	"saltlock/chem/quantity"
	"saltlock/chem/seawater"
)

// corrections adds notes on what was corrected, and by how much.
func (m *measurement) corrections(sa quantity.AbsoluteSalinity) []quantity.Note {
	notes := []quantity.Note{}
	if m.sensor.believed == nil {
		return notes
	}
	believed, err := m.sensor.believed(m.reading.Value)
	if err != nil { // without the correction there is no salinity at all
		return append(notes, m.sensor.remark(m.temperature, nil))
	}
	return append(notes, m.sensor.remark(m.temperature, new(quantity.Exactly(sa-believed))))
}

// assumptions adds notes on what was assumed because the request did not state it.
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

// sources are the measures that are used beyond the ranges of their sources.
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

// remarks warns of measures that are missing, and of those given beyond the range of their
// source.
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

// instrumentRemarks warns of what the instrument cannot show.
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

// conductivityShown returns the conductivity on the display of a pen; 0 if it shows none.
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

// dilute is the practical salinity below which the ions of tap water may dominate the
// conductivity, and below which PSS-78 needs its extension.
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

// halfDivision is the method of that name, if the reading's uncertainty comes from it.
func (m *measurement) halfDivision() methodSet {
	if !m.stated && m.reading.U > 0 {
		return methodsOf(HalfDivisionMethod)
	}
	return 0
}

func note(code quantity.Code, params ...any) quantity.Note {
	return quantity.Note{Code: code, Params: params}
}
