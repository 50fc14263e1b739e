package drip

// Check returns how many pour-offs the container forces, and the *Obstacle that can
// be told without a search, if there is one.
func Check(p Problem) (forced int, err error) {
	m := newModel(p)
	err = m.obstacle()
	return m.forced, err
}
