package followup

import "slices"

// inOrder is a log sorted by time, with the number that each entry has in the log. Entries of
// the same time stay in the order in which they came.
func inOrder(log []LogEntry) (sorted []LogEntry, number []int) {
	number = make([]int, len(log))
	for i := range number {
		number[i] = i + 1
	}
	slices.SortStableFunc(number, func(a, b int) int { return log[a-1].Time.Compare(*log[b-1].Time) })
	for _, n := range number {
		sorted = append(sorted, log[n-1])
	}
	for i := 0; i < len(sorted); i++ {
		if sorted[i].is(Restarted) {
			i -= afterRestart(sorted, number, i)
		}
	}
	return sorted, number
}

// afterRestart moves signs of distress of which a restart, at a place in the log, did not know after
// it: they were reported later, and dated before it. It returns how many there are.
func afterRestart(sorted []LogEntry, number []int, restart int) (unknown int) {
	at := sorted[restart].Time
	for i := restart - 1; i >= 0; i-- {
		e, n := sorted[i], number[i]
		if n < number[restart-unknown] || !e.Distressed() && !e.is(LookWrong) {
			continue
		}
		e.Time = at
		copy(sorted[i:], sorted[i+1:restart+1-unknown])
		copy(number[i:], number[i+1:restart+1-unknown])
		sorted[restart-unknown], number[restart-unknown] = e, n
		unknown++
	}
	return unknown
}
