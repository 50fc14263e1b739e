// Package ramp plans the water changes that take a whole tank, with its
// animals and its filter in it, from one salinity to another over days. It
// works on plain numbers and knows neither animals nor words.
//
// # The problem
//
// At most one change a day. A change takes out part of the water and fills the
// tank to its mark with new water: source water, or source water with salt.
// Between changes water evaporates and source water makes it up. How much is
// changed, and when, is what a plan chooses: the fewest days first, then the
// least salt and water.
//
// The salinity counts once a day, after filling up. Limits hold between any two
// of these values: a day apart (a change at once, a day's change, the pH), up to a
// week apart, and up to the filter's wait apart. The filter's limit is a step of
// 2.7 g/kg, say, and a wait from the first day of one step to the first of the
// next, longer where the tank is salty. Here it is read strictly: in any days as
// many as the wait the tank changes by one step at most. So every plan falls into
// steps as the rule wants them, and none begins a step with a drop only to start
// the clock.
//
// # The days
//
// Write p(n) for the way gone by day n. Each limit bounds p(n) by a rising
// function of earlier values of p. So one schedule is ahead of every other on
// every day: the one that goes as far as it may each day. There is one exception.
// On the way up the wait grows where the tank becomes salty, so it can pay to stop
// there once and cross in the next step. Both are followed, and a schedule is
// dropped only for one that is at least as far on each of the last seven days and
// need not wait longer. So the number of days is the least there is.
//
// A limit that no rising function describes would break this proof. That on pH is
// one where the pH first falls and then rises on the way.
//
// # Salt and water
//
// A change to a given salinity takes the least water, and on the way up the
// least salt, if the new water is as different from the tank's as it may be:
// plain source water on the way down, the saltiest water allowed on the way
// up. Where the source alone raises the tank, it is used without salt.
//
// With that, changes by the shares u(k) reach a salinity if the product of all
// 1−u(k) has one value, and the sum of the shares is the less the more unequal
// they are: one large change beats two small. So from a schedule of the fewest
// days the smallest change is left out, again and again, as long as the rest
// arrives in time, and one is shortened so that the last is whole. This is a local
// optimum. The exhaustive test finds its water within 1 % of the least, within 5 %
// where single changes go a quarter of the way to the new water and more. Each
// change counts half a percent of the water, so that none is made for a cupful.
//
// Where water evaporates, what is filled up with new water need not be taken out. So
// on the way up schedules of many small changes are tried beside those of few.
//
// A dose of salt is one that a kitchen scale shows. It is rounded up and the
// share enlarged to match, so that the salinity is met exactly; where the share
// would have to grow by more than a hundredth of the tank, the dose is rounded
// down and the tank stays a little behind.
package ramp
