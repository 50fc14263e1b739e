package server

import "strings"

// nearest is the known name that a person may have meant, or "".
func nearest(name string, known []string) string {
	best, least := "", 1+len(name)/3
	for _, k := range known {
		if d := distance(strings.ToLower(name), k); d < least || (d == least && best == "") {
			best, least = k, d
		}
	}
	return best
}

// distance is the number of letters to change, add or drop between a and b.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
