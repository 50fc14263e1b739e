package store

import "slices"

// asked returns which words of a query are the name in it, as in "what salinity for a figure 8
// puffer": the longest run of words that is a name, with nothing but words of a question around
// it. If there is none, such words are taken off both ends unless they are words of names.
func (x *index) asked(query []string) (from, to int) {
	lead, trail := 0, 0
	for lead < len(query) && (question[query[lead]] || waters[query[lead]]) {
		lead++
	}
	for trail < len(query) && (question[query[len(query)-1-trail]] || waters[query[len(query)-1-trail]]) {
		trail++
	}
	asks := slices.ContainsFunc(query, func(w string) bool { return question[w] })
	for size := len(query); size > 0; size-- {
		for from := max(0, len(query)-trail-size); from <= lead && from+size <= len(query); from++ {
			// A "marine betta" is not a betta: the word right before a name is part of it.
			if from > 0 && !question[query[from-1]] || from+size < len(query) && !asks {
				continue
			}
			if names, _ := x.called(x.compounds(query[from : from+size])); len(names) > 0 {
				return from, from + size
			}
		}
	}
	for to = len(query); from < to && question[query[from]] && !x.knows(query[from]); {
		from++
	}
	for to > from && (question[query[to-1]] && !x.knows(query[to-1]) || asks && waters[query[to-1]]) {
		to--
	}
	if from == to {
		return 0, len(query)
	}
	return from, to
}

// knows reports whether a word occurs in a name.
func (x *index) knows(w string) bool {
	_, ok := x.known[w]
	return ok
}

// question holds the words, in the singular, that people put around a name.
var question = wordSet(`what which how much is are be the a an and or for of in into at to on with my i we do does can could should
	salinity sg specific gravity ppt level need want like keep kept live best good safe tank please put go survive
	wie viel wieviel braucht brauchen brauche der die das den dem ein eine einen einem darf duerfen kann koennen koennte soll sollte muss
	ich mein meine meinen ins im mit fuer und oder ist sind welche welcher welchen welches halten leben lebt kommt gehoert salz salzgehalt dichte`)

// waters hold what people say about the water next to a name.
var waters = wordSet(`water fresh freshwater salt saltwater brackish marine sea seawater aquarium fish
	wasser suesswasser salzwasser brackwasser meerwasser meer becken`)

func wordSet(text string) map[string]bool {
	words := map[string]bool{}
	for _, w := range split(text) {
		words[w] = true
	}
	return words
}

// compounds joins words that are one word in a name of the table: "archer fish" is an archerfish.
func (x *index) compounds(words []string) []string {
	var joined []string // nil while nothing was joined
	for i := 0; i < len(words); i++ {
		w := words[i]
		if i+1 < len(words) && x.spells[w+words[i+1]] {
			if joined == nil {
				joined = slices.Clone(words[:i])
			}
			w, i = w+words[i+1], i+1
		}
		if joined != nil {
			joined = append(joined, w)
		}
	}
	if joined == nil {
		return words
	}
	return joined
}

// germanKey joins words, without the endings of German adjectives before the last: "Grüne
// Kugelfisch" is a "Grüner Kugelfisch".
func germanKey(words []string) string {
	key := ""
	for _, w := range words[:len(words)-1] {
		for _, end := range []string{"er", "es", "en", "em", "e"} {
			if stem := len(w) - len(end); stem >= 4 && w[stem:] == end {
				w = w[:stem]
				break
			}
		}
		key += w
	}
	return key + words[len(words)-1]
}
