package quantity

// Standing says how much authority a formula has.
type Standing string

// The standings a method can have.
const (
	Standard       Standing = "standard"        // an international standard or its release
	PublishedFit   Standing = "published_fit"   // a fit printed in the literature
	Definition     Standing = "definition"      // true by definition or by conservation
	CommonPractice Standing = "common_practice" // a custom of the trade without a source
	Proposed       Standing = "proposed"        // a default proposed by Saltlock
)

// Method describes one formula in use.
type Method struct {
	Key         string   `json:"key"`
	Title       string   `json:"title"`
	Source      string   `json:"source"`      // citation, with equation or table
	Validity    string   `json:"validity"`    // ranges in words and numbers
	Uncertainty string   `json:"uncertainty"` // standard uncertainty, and of what
	Standing    Standing `json:"standing"`
}
