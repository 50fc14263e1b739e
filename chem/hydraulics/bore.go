package hydraulics

import (
	"errors"

	"saltlock/chem/internal/numeric"
	"saltlock/chem/quantity"
)

// BoreFor returns the narrowest bore through which a flow runs in an open line.
//
//	flow    asked for, more than 0 mL/min
//	length  of the hose, 1 cm to 100 m
//	head    1 mm to 3 m
//	sa      Absolute Salinity, 0 to 120 g/kg
//	t       temperature, 0 to 40 °C
//
// Uncertainty: a quarter of OpenFlowFit in a long narrow line, where the flow rises with
// the fourth power of the bore, and half of it in a short one.
// Check value: 1494 mL/min through a metre under 30 cm take 6 mm, as in OpenFlow.
// The error is a *quantity.RangeError if no bore passes the flow.
//
// Source: OpenFlow solved for the bore, with which it rises.
func BoreFor(flow quantity.Flow, length, head quantity.Length, sa quantity.AbsoluteSalinity, t quantity.Celsius) (quantity.Length, error) {
	widest, err := OpenFlow(Line{Bore.Hi, length, head}, sa, t)
	if err != nil {
		return 0, err
	}
	narrowest, err := OpenFlow(Line{Bore.Lo, length, head}, sa, t)
	if err != nil {
		return 0, err
	}
	if err := (quantity.Range[quantity.Flow]{Hi: widest.Flow}).Check("flow", flow); err != nil || flow <= narrowest.Flow {
		return Bore.Lo, err
	}
	var fault error
	bore, err := numeric.Root(func(bore float64) float64 {
		open, err := OpenFlow(Line{quantity.Length(bore), length, head}, sa, t)
		fault = errors.Join(fault, err)
		return float64(open.Flow - flow)
	}, float64(Bore.Lo), float64(Bore.Hi))
	return quantity.Length(bore), errors.Join(err, fault)
}
