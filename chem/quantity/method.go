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

// Methods lists what this package contributes to an answer.
func Methods() []Method {
	return []Method{{
		Key:         "uncertainty-gum",
		Title:       "Propagation of standard uncertainty",
		Source:      "JCGM 100:2008 [JCGM100], 5.1.2, with the differences of 5.1.3 note 2 for derivatives",
		Validity:    "independent inputs, formulas nearly linear within one standard uncertainty",
		Uncertainty: "within 3 % of u in the Monte Carlo tests of this package",
		Standing:    Standard,
	}, {
		Key:         "units",
		Title:       "Conversion of units",
		Source:      "NIST SP 811 (2008) [NISTSP811], appendix B.8; molar masses from the atomic weights of 2021 [CIAAW2021]; 10 mg CaO a litre for a degree dKH",
		Validity:    "every unit that a request may use",
		Uncertainty: "exact, but for molar masses, 2e-5 relative",
		Standing:    Definition,
	}}
}
