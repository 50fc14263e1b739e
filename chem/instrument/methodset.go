package instrument

import (
	"math/bits"
	"slices"

	"saltlock/chem/seawater"
)

// methodSet is a set of methods, one bit for each key in alphabetical order.
type methodSet uint64

// methodKeys are the keys of every method that a reading can need.
var methodKeys = sortedKeys()

func sortedKeys() []string {
	var keys []string
	for _, m := range slices.Concat(seawater.Methods(), Methods()) {
		keys = append(keys, m.Key)
	}
	slices.Sort(keys)
	return keys
}

// methodsOf panics for an unknown key, or one that has no bit.
func methodsOf(keys ...string) methodSet {
	var set methodSet
	for _, key := range keys {
		i, ok := slices.BinarySearch(methodKeys, key)
		if !ok || i >= 64 {
			panic("no method " + key)
		}
		set |= 1 << i
	}
	return set
}

// keys lists the methods in the order of their keys.
func (s methodSet) keys() []string {
	keys := make([]string, 0, bits.OnesCount64(uint64(s)))
	for ; s != 0; s &= s - 1 {
		keys = append(keys, methodKeys[bits.TrailingZeros64(uint64(s))])
	}
	return keys
}
