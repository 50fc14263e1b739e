// Package transfer plans how animals go from the water they live in to other water: in one step if
// that is small enough, otherwise by a drip into a container, with valve settings, pour-offs,
// level marks and expected readings that two hands and a valve can keep to.
//
// # The drip
//
// All is by mass. While only the new water enters, the gap g between the
// salinities times the mass m in the container, the deficit D, stays the same;
// pouring off lowers m and D and leaves g. A flow q then takes the gap from a to
// b in D·(1/b − 1/a)/q hours, and the salinity changes by q·g²/D an hour. Under
// an hourly limit r(g) no schedule is faster than the integral of dg/r.
//
// Temperature follows from enthalpy, which mixes as salt does, so both lie on
// one path from water to water, and a limit on temperature is one on salinity.
//
// Where r is even and the container large, a stage set to its limit takes
// (g/r)·(ρ−1) for the ratio ρ it closes, whatever the mass. For K settings and
// the product of all ρ given, the sum of these times is convex in the gaps
// between and least where ρ' = (1+ρ²)/2 from each stage to the next: one root.
//
// In general a schedule is a list of acts, each due at a gap: set the valve, pour
// off, or both. What the flows and levels then are follows from the acts: from
// one setting to the next the flow is the greatest that limit, valve and room
// allow all the way, and a pour-off leaves as little as that flow and the
// animals need. A pour-off leaves the valve as it is unless a setting is spent
// on it. So only when to act, and in which order, is searched for; the number of
// pour-offs is the least that the container forces.
package transfer
