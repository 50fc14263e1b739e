package quantity

// Input is one uncertain input of a joint function.
type Input struct {
	Name  string
	Value float64
	U     float64
}

// Share is how much of an answer's variance one input brings.
type Share struct {
	Input string   `json:"input"`
	Share Fraction `json:"share"`
}
