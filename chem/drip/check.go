package drip

// Check returns how many pour-offs the container forces, and the *Obstacle, if there is
// one that can be found without a search.
func Check(p Problem) (forced int, err error) {
	m := newModel(p)
	err = m.obstacle()
	return m.forced, err
}
