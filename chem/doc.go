// Package chem is documentation only: what its packages are and where their
// formulas come from.
//
//	quantity    quantities, units, uncertainty
//	seawater    state of the water
//	instrument  what an instrument really read, and what it would show
//	mixing      mass balances and vessels
//	transfer    the transfer planner
//	tolerance   what a water means for a species
//
// # Bibliography
//
//	[TEOS10]  IOC, SCOR and IAPSO 2010, The international thermodynamic equation of seawater, IOC Manuals and Guides 56
package chem
