package instrument

import (
	"errors"

	"saltlock/chem/quantity"
)

// unused refuses inputs about an instrument other than the one that was read, because
// whoever sends one expects it to count.
func (s Setup) unused(r quantity.Reading) error {
	kind := s.kind()
	var faults []error
	only := func(name string, given, counts bool, of string) {
		if given && !counts {
			faults = append(faults, &ConflictError{Name: name, Other: "instrument", Why: "it is of " + of + ", and the instrument is " + string(kind) + "; name the instrument, or leave this out", Note: quantity.Note{Code: "of_another_instrument", Params: []any{of, string(kind)}}})
		}
	}
	only("calibration", s.Calibration != nil, kind == Hydrometer || kind == PointerHydrometer || r.Scale == quantity.SpecificGravityScale, "a hydrometer or a specific gravity")
	only("scale", s.Scale != nil, kind == Refractometer, "a refractometer")
	only("temperature_compensated", s.TemperatureCompensated != nil, kind == Refractometer, "a refractometer")
	only("zero_temperature", s.ZeroTemperature != nil, kind == Refractometer, "a refractometer")
	only("compensation", s.Compensation != nil, kind == ConductivityMeter || kind == TDSMeter, "a conductivity or tds meter")
	only("tds_factor", s.TdsFactor != nil, kind == TDSMeter, "a tds meter")
	return errors.Join(faults...)
}
