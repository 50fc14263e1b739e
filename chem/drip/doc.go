// Package drip plans how new water drips into a container so that the difference
// of salinity, the gap, closes as the keeper wishes: how often to set the valve and
// to what flow, when to pour off and how much. It knows plain numbers only.
//
// All is by mass. While only the new water enters, the gap g times the mass m
// in the container, the deficit D, stays the same; pouring off lowers m and D and
// leaves g. A flow q then takes the gap from a to b in D·(1/b − 1/a)/q hours, and the
// salinity changes by q·g²/D an hour. Under an hourly limit r(g) no schedule is
// faster than the integral of dg/r. Where an overflow holds the volume,
// dg/g = −q·dt/m instead.
//
// # How the best schedule is found
//
// A schedule is an order of acts (set the valve, pour off, both, shut the valve) and
// the numbers that go with it: the gap at each act, the deficit that each pour-off
// leaves, each flow. In the logarithms of these numbers the limits on flow and mass
// are straight, and the duration is a sum of exponentials. So for one order a sequence
// of quadratic programs settles the numbers, on the edges of the limits where the best
// schedules lie, to far more digits than a keeper can use.
//
// Around that is a branch and bound. It looks at every order that could not be given
// one more setting or pour-off at its acts: what such an order does not need, its best
// schedule leaves undone, so the others are among them. It branches on what a
// program cannot state at once: on which side of a drop of the limit a leg lies, before
// or after which quiet hours an act comes, which of two countable flows is set. A
// constraint joins the program of an order once it is broken there. A branch is given
// up when what it could reach at best is no better, by 0.3 % of the objective, than what
// was found; what an order could reach at best is its solution without what is not yet
// branched on, and what any order of so many acts could, the solution that sets and
// pours off at each act under no rim. So a schedule that is called complete is within
// that part of the best, as far as the inner solutions are.
//
// # Where it may not be
//
// The inner problem is not convex. Without constraints its solutions have agreed with
// an exhaustive search everywhere that was tried; constraints can part what is allowed
// into several regions, with better schedules in one that was not entered. Therefore
// each order that breaks a constraint is solved again from the most promising of
// scattered points, up to a number of times in all, and the best so far is tried in all
// other orders. The tests hold the result to within 1 % of the exhaustive search where
// constraints bind. A constraint must follow its balance closely: where it leaps, as an
// integration does whose steps are too long, no search can be trusted.
//
// A search that spends its budget, or has more than 128 orders of one size, of which it
// looks only at those near a good one, says that it is not complete.
//
// SolveCups plans the same by hand, in measured cups: a search over lists of cups that
// says there what it looks at.
//
// Nothing is random and no clock is read: the same problem gives the same schedule.
package drip
