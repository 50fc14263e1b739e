package quantity

// Scale says on which measure of salinity a Reading stands.
type Scale string

// The scales a reading can be on; each is also the unit that names it on the wire.
const (
	PracticalScale       Scale = "ppt"
	AbsoluteScale        Scale = "g/kg"
	PerLitreScale        Scale = "g/L"
	SpecificGravityScale Scale = "SG"
	DensityScale         Scale = "kg/m³"
	ConductivityScale    Scale = "mS/cm"
	RefractiveIndexScale Scale = "nD"
	BrixScale            Scale = "°Bx"
	ChlorinityScale      Scale = "g/kg Cl"
	OsmolalityScale      Scale = "mOsm/kg"
)

// Reading is a salinity as somebody has it: a number on some scale. What it
// means depends on instrument and temperature; chem/instrument resolves it.
type Reading struct {
	Value, U   float64
	Scale      Scale
	Convention *Convention // with SG only, and only where the reading names it: "1.010 SG 60F/60F"
}

// Convention is the pair of temperatures a specific gravity stands on: the
// sample's over the pure water's, printed "25C/25C".
type Convention struct {
	Sample, Water Celsius
}
