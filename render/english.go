package render

// english holds the sentence of every code. {0}, {1} … are what it speaks of.
var english = map[string]string{}
