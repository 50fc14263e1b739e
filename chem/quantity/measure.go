package quantity

// Measure is an estimate whose quantity is known only at run time, for lists
// that hold limits or inputs of several kinds.
type Measure struct {
	Value       float64 `json:"value"`
	Unit        string  `json:"unit"`
	Uncertainty float64 `json:"uncertainty,omitempty"`
}

// Measure returns the estimate with its unit as text.
func (e Estimate[Q]) Measure() Measure {
	return Measure{Value: float64(e.Value), Unit: e.Value.Unit(), Uncertainty: float64(e.U)}
}
