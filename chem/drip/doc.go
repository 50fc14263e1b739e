// Package drip plans how new water drips into a container so that the difference
// of salinity, the gap, closes as the keeper wishes: how often to set the valve and
// to what flow, when to pour off and how much. It knows plain numbers only.
//
// All is by mass. While only the new water enters, the gap g times the mass m
// in the container, the deficit D, stays the same; pouring off lowers m and D and
// leaves g. A flow q then takes the gap from a to b in D·(1/b − 1/a)/q hours, and the
// salinity changes by q·g²/D an hour. Under an hourly limit r(g) no schedule is
// faster than the integral of dg/r.
package drip
