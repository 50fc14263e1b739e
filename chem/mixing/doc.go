// Package mixing balances mass, salt and heat: how much salt a water needs, what several
// waters give together, what a water change or a top-off does, and how much water a vessel
// contains.
//
// Every mix conserves mass, mass of salt and enthalpy. Volumes are not
// conserved: a litre of fresh and a litre of sea water make less than two.
package mixing
