package mixing

import (
	"slices"

	"saltlock/chem/quantity"
)

// Keys in Methods of what this package adds to the formulas of chem/seawater.
const (
	SaltBalanceMethod   = "salt-balance"
	HydratedMethod      = "hydrated-mix"
	BlendMethod         = "blend-balance"
	WaterChangeMethod   = "water-change-balance"
	EvaporationMethod   = "evaporation-balance"
	VesselMethod        = "vessel-geometry"
	BedMethod           = "bed-and-rock"
	uncertaintyOfInputs = "that of the inputs, propagated once over the joint function"
)

// Methods lists every formula of the package.
func Methods() []quantity.Method { return slices.Clone(methods) }

var methods = []quantity.Method{
	{Key: SaltBalanceMethod, Title: "Salt and source water of a batch, by conservation of salt and of mass",
		Source:   "conservation; mass of sea salt after Millero et al. 2008, Deep-Sea Res. I 55:50-72",
		Validity: "salinity up to 120 g/kg, " + temperatures.String() + ", product with " + contents.String() + " of water",
		Standing: quantity.Definition, Uncertainty: uncertaintyOfInputs + ", and 0.02 % for the composition of sea salt"},
	{Key: HydratedMethod, Title: "Water content of a mix whose hydrates all carry their crystal water: 41.31 g for 35.17 g anhydrous",
		Source:   "Kester, Duedall, Connors and Pytkowicz 1967, Limnol. Oceanogr. 12:176-179, recipe for salinity 35",
		Validity: "a complete sea salt; real products lie between this and an anhydrous one, and moisture adds to it",
		Standing: quantity.PublishedFit, Uncertainty: "the two amounts given bracket the product"},
	{Key: BlendMethod, Title: "Waters poured together, by conservation of mass, salt, enthalpy and alkalinity",
		Source:   "conservation; enthalpy of IAPWS R13-08",
		Validity: "salinity up to 120 g/kg, " + temperatures.String() + ", no heat lost to the vessel",
		Standing: quantity.Definition, Uncertainty: uncertaintyOfInputs},
	{Key: WaterChangeMethod, Title: "A water change back to the same level at one temperature, by conservation of mass and salt",
		Source:   "conservation",
		Validity: "salinity up to 120 g/kg, " + temperatures.String() + ", the tank mixed through",
		Standing: quantity.Definition, Uncertainty: uncertaintyOfInputs},
	{Key: EvaporationMethod, Title: "Evaporation and top-off: water leaves, salt stays",
		Source:   "conservation",
		Validity: "salinity up to 120 g/kg, " + temperatures.String() + ", no salt lost by spray",
		Standing: quantity.Definition, Uncertainty: uncertaintyOfInputs},
	{Key: VesselMethod, Title: "Volume of a box, a cylinder, the frustum of a cone, and a box with a circular segment in front",
		Source:   "elementary geometry",
		Validity: "straight walls; a bow that is an arc of a circle",
		Standing: quantity.Definition, Uncertainty: uncertaintyOfInputs},
	{Key: BedMethod, Title: "Water displaced by a sand bed and rock: grains are the bed less its pores",
		Source:   "porosity 0.42 well sorted to 0.28 poorly sorted: Beard and Weyl 1973, AAPG Bull. 57:349; rock about 2.65 to 2.7 kg/L (from memory)",
		Validity: "bed level and under water",
		Standing: quantity.PublishedFit, Uncertainty: "of porosity about 0.07, of rock density about 2 % where not given; not counted unless stated"},
}
