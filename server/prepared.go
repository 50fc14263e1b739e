package server

import "sync"

// preparedBytes is how much memory prepared answers may take.
const preparedBytes = 4 << 20

// prepared keeps written answers by ETag, which names everything they depend on. It is for answers
// that many ask for and that take long to write: lists and single species. The half used least
// recently goes first.
type prepared struct {
	mu         sync.Mutex
	young, old map[string]preparedAnswer
	size       int // of young
}

type preparedAnswer struct {
	media    string
	link     string   // to the next page of a list
	language []string // of its sentences, as its header says; nil if it has none
	body     []byte
}

func newPrepared() *prepared {
	return &prepared{young: map[string]preparedAnswer{}, old: map[string]preparedAnswer{}}
}

func (p *prepared) get(tag string) (preparedAnswer, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	a, ok := p.young[tag]
	if !ok {
		if a, ok = p.old[tag]; ok {
			p.keep(tag, a)
		}
	}
	return a, ok
}

func (p *prepared) put(tag string, a preparedAnswer) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(a.body) <= preparedBytes/8 {
		p.keep(tag, a)
	}
}

func (p *prepared) keep(tag string, a preparedAnswer) {
	if p.size+len(a.body) > preparedBytes/2 {
		p.old, p.young, p.size = p.young, map[string]preparedAnswer{}, 0
	}
	p.size += len(a.body) + len(tag)
	p.young[tag] = a
}
