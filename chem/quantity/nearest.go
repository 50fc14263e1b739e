package quantity

import "strings"

// Nearest returns the one of the known names that a person may have meant by
// another, "" if none is near: a third of its letters and one more may differ.
// Nobody means a name by more than 64 bytes, and comparing those takes long.
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

// Slip says whether a name is a known one in small letters with at most one letter in
// five wrong, missing or too many. It is stricter than Nearest, for names that may as well
// be meant as they are.
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
