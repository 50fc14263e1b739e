package store

// Outcome says how a text was understood.
type Outcome string

// The outcomes.
const (
	Exact    Outcome = "exact"    // a name of one species and of no other
	Several  Outcome = "several"  // a name, or part of one, that several share
	Spelling Outcome = "spelling" // no name, but close to the spelling of one: did you mean it?
	NotThere Outcome = "none"     // of no name in the table
)

// Match is how a text was understood. Act only on Exact.
type Match struct {
	Outcome Outcome `json:"outcome"`
	// Asked is the name looked for, without the words of a question.
	Asked string `json:"asked"`
	// Candidates are the species it may mean: one if exact.
	Candidates []Candidate `json:"candidates"`

	taxa []int
	near []int
}

// Candidate is a species that a text may mean, and the name that suggests it.
type Candidate struct {
	ID             string `json:"id"`
	Name           string `json:"name"`
	ScientificName string `json:"scientific_name"`
	By             string `json:"by"`
}

// mostCandidates is how many are named; a list shows them all.
const mostCandidates = 5
