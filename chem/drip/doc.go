// Package drip plans how to drip new water into a container until the difference in
// salinity, the gap, is small enough: how often to set the valve and to what flow, when
// to pour off and how much. It works on plain numbers only.
//
// All balances are by mass. While new water enters and nothing leaves, the gap g times
// the mass m in the container, called the deficit D, stays constant; pouring off lowers
// m and D and leaves g unchanged. A flow q then takes the gap from a to b in
// D·(1/b − 1/a)/q hours, and the salinity changes by q·g²/D an hour. Under an hourly
// limit r(g) no schedule is faster than the integral of dg/r. Where an overflow keeps
// the volume constant, dg/g = −q·dt/m instead.
//
// # Why it finds the best schedule
//
// A schedule is an order of acts (set the valve, pour off, both, shut the valve)
// together with its numbers: the gap at each act, the deficit that each pour-off leaves,
// and each flow. In the logarithms of these numbers the limits on flow and mass are
// linear, and the duration is a sum of exponentials. For a single order, sequential
// quadratic programming therefore finds the numbers to far more digits than a keeper can
// use, including where the best schedules lie, on the edges of the limits.
//
// A branch and bound searches over the orders. It looks only at orders to which no
// setting or pour-off could be added without adding an act. Every other order is a
// special case of one of these, with acts that change nothing, so none is missed. The
// search branches on what a program cannot express: whether a leg lies before or after a
// drop of the limit, whether an act comes before or after quiet hours, how often the jug
// is refilled during a leg, and which of two countable flows is set. A constraint joins
// the program of an order once a solution breaks it.
//
// A branch is abandoned when its bound is not better than the best schedule so far by
// at least 0.3 % of the objective. There are two bounds: the solution of the order
// without the conditions that are still to be branched on, and, for all orders with the
// same number of acts, the solution that sets the valve and pours off at every act and
// ignores the rim. A schedule called complete is thus within 0.3 % of the best, provided
// that the inner solutions are the true minima.
//
// # Where it may miss it
//
// The inner problem is not convex. Without constraints, its solutions agreed with an
// exhaustive search in every case tried. Constraints can split the feasible region into
// parts, and the best schedule may lie in a part that the solver never enters. So an
// order that breaks a constraint is also solved from the most promising of many
// scattered points, up to a total number of times, and the best schedule so far is tried
// in every other order. The tests hold the result to within 1 % of the exhaustive search
// where constraints bind. A constraint must vary smoothly: if it jumps, as an integration
// with steps that are too long does, no search can be trusted.
//
// The search calls its schedule incomplete when it spends its budget. It does the same
// when there are more than 128 orders with one number of acts: it then looks only at
// those close to a good one.
//
// SolveCups plans the same change by hand, in measured cups. Its own comment says which
// lists of cups it looks at.
//
// Nothing is random and no clock is read, so the same problem always gives the same
// schedule.
package drip
