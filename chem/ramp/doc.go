// Package ramp plans the water changes that take a whole tank, with its animals and its
// filter, from one salinity to another over days. It works on plain numbers and knows
// neither animals nor words.
//
// # The problem
//
// There is at most one change a day. A change takes out part of the water and fills the
// tank to its mark with new water: source water, with or without salt. Between changes
// water evaporates and is replaced with source water. A plan chooses how much is changed
// and when: the fewest days first, then the least salt and water.
//
// The salinity counts once a day, after filling up. Limits apply to any two of these
// values: a day apart (a change at once, a day's change, the pH), up to a week apart, and
// up to the filter's wait apart. The filter's limit is a step, say of 2.7 g/kg, and a wait
// from the first day of one step to the first day of the next, which is longer if the tank
// is salty. It is read strictly here: in any run of days as long as the wait, the tank
// changes by one step at most. So every plan consists of steps as the rule demands, and no
// plan makes a tiny change only to start the clock of a step.
//
// # The days
//
// Let p(n) be the change of salinity reached by day n. Each limit bounds p(n) by an
// increasing function of earlier values of p. So one schedule is ahead of all others on
// every day: the one that goes as far as allowed each day. There is one exception. On the
// way up the wait gets longer where the tank becomes salty, so it can pay to stop there
// once and cross in the next step. Both choices are followed. A schedule is dropped only
// in favour of one that was at least as far on each of the last seven days and does not
// have to wait longer. So the number of days is minimal.
//
// A limit that is not an increasing function would break this proof. The limit on pH is
// one if the pH first falls and then rises during the ramp.
//
// # Salt and water
//
// A change to a given salinity takes the least water, and on the way up the least salt,
// if the new water differs from the tank's as much as allowed: plain source water on the
// way down, the saltiest water allowed on the way up. If the source alone raises the
// salinity, it is used without salt.
//
// Changes by the shares u(k) then reach a given salinity if the product of all 1−u(k) has
// a certain value. The sum of the shares is smaller the more unequal they are: one large
// change beats two small ones. So, starting from a schedule with the fewest days, the
// search repeatedly leaves out the smallest change, as long as the rest arrives in time.
// Then it shortens one change, so that the last one is whole. The result is a local
// optimum. In the exhaustive test it takes at most 1 % more water than the least, or 5 %
// if single changes go a quarter or more of the way to the new water. Each change counts
// as half a per cent of the water, so that none is made for a cupful.
//
// Where water evaporates, new water can replace it without anything being taken out. So,
// on the way up, schedules of many small changes are tried as well as those of few.
//
// All salted changes take new water of one salinity, so that a keeper mixes one stock and pours
// in other litres of it. What varies is the volume. The salt is not rounded to what a scale shows:
// it is weighed for the stock, which a reading then corrects for the moisture of the product. Only
// where a change replaces less than what evaporated does source water go in beside the stock.
package ramp
