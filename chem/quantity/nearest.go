package quantity

import "strings"

// Nearest returns the known name that a person may have meant by another, or "" if none is
// close: a third of its letters and one more may differ. It gives up above 64 bytes, which
// nobody means as a name and which take long to compare.
func Nearest(given string, known []string) string {
	if len(given) > 64 {
		return ""
	}
	best, least := "", 1+len(given)/3
	for _, k := range known {
		if d := distance(strings.ToLower(given), k); d < least || d == least && best == "" {
			best, least = k, d
		}
	}
	return best
}

// Slip reports whether a name is a known one in lower case with at most one letter in five
// wrong, missing or added. It is stricter than Nearest, for names that may also be meant as
// they are.
func Slip(given, known string) bool {
	return len(given) <= 64 && given != known && distance(strings.ToLower(given), known) <= len(known)/5
}

// distance is the number of letters to insert, delete or replace to turn a into b.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0]++
		for j := range len(b) {
			replaced := diagonal
			if a[i] != b[j] {
				replaced++
			}
			diagonal = row[j+1]
			row[j+1] = min(replaced, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
