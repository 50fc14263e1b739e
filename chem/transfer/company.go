package transfer

import "saltlock/chem/tolerance"

// judgeCompany says first which animals of a plan may not share a container: temper and size
// decide before salinity does. What matters only to animals that live together, such as how many
// make a shoal, does not matter in a bucket.
func (t *task) judgeCompany() {
	var members []tolerance.Member
	for _, a := range t.request.Animals {
		if a.Known == nil || a.Known.Of == nil {
			continue
		}
		m := tolerance.Member{Taxon: *a.Known.Of, Stage: a.Known.Stage.Stage}
		if a.Count != nil {
			m.Count = *a.Count
		}
		members = append(members, m)
	}
	if reasons := tolerance.Forbidding(members); len(reasons) > 0 {
		t.warn(noteOf("separate_containers"))
		for _, n := range reasons {
			t.warn(n)
		}
	}
}
