package server

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime"
	"sync"
	"time"

	"saltlock/api"
	"saltlock/chem/instrument"
	"saltlock/server/contract"
)

// feed gives the readings of a request one by one, each as it was sent.
type feed[T any] interface {
	next() (given T, size int, err error) // with its size in bytes; io.EOF after the last
	ready() bool                          // whether next has one without waiting for the client
	convert(given T, every bool) (instrument.Conversion, error)
	own(given T) []string       // the cells that a table returns unchanged
	place(dotted string) string // how faults name a field of what is given
}

// form writes the outcomes of the readings. Each function appends.
type form interface {
	begin(b []byte) []byte
	item(b []byte, i int, of outcome, own []string) ([]byte, error)
	end(b []byte, good, bad int) ([]byte, error)
}

// outcome is the conversion of one reading, or what is wrong with it.
type outcome struct {
	Conversion *instrument.Conversion `json:"conversion,omitempty"`
	Errors     []api.Fault            `json:"errors,omitempty"`
}

// pipeline converts the readings of a request on all cores. One goroutine reads chunks of
// readings, others convert them when their turn among all requests comes, and the caller's sends
// them in their original order. Only so many chunks are in progress that memory stays flat and
// that a client which does not read is not read from.
type pipeline[T any] struct {
	server    *Server
	feed      feed[T]
	form      form
	most      int  // readings in a chunk
	together  bool // all readings share one bound on faults, instead of one each
	link      link
	spare     chan []byte // memory of chunks already sent, for the next ones
	good, bad int
}

// chunk is some readings and their outcomes.
type chunk[T any] struct {
	first        int // number of its first reading
	given        []T
	end          error    // why no more can be read, as one more outcome
	before, left chan int // how many faults may still be described, at its start and after it
	text         []byte
	good, bad    int
	err          error
	done         chan struct{} // closed once text is written
}

// run answers all readings.
func (p *pipeline[T]) run() error {
	if err := p.link.send(p.form.begin(nil)); err != nil {
		return err
	}
	order, quit := make(chan *chunk[T], 2*runtime.GOMAXPROCS(0)), make(chan struct{})
	p.spare = make(chan []byte, cap(order))
	var running sync.WaitGroup
	running.Go(func() { p.read(&running, order, quit) })
	var err error
	for c := range order {
		if <-c.done; err != nil {
			continue
		}
		if err = c.err; err == nil {
			err = p.link.send(c.text)
		}
		select {
		case p.spare <- c.text[:0]:
		default:
		}
		if err != nil {
			close(quit)
			p.link.stopReading()
		}
		p.good, p.bad = p.good+c.good, p.bad+c.bad
	}
	running.Wait()
	if err != nil {
		return err
	}
	text, err := p.form.end(nil, p.good, p.bad)
	if err != nil {
		return err
	}
	return p.link.send(text)
}

// read makes chunks and has them converted until there are no more readings or nobody wants more.
// Chunks are let in in order, since each waits for the one before it.
func (p *pipeline[T]) read(running *sync.WaitGroup, order chan<- *chunk[T], quit <-chan struct{}) {
	defer close(order)
	left := make(chan int, 1)
	left <- contract.MaxTold
	for n, last := 0, false; !last; {
		c := &chunk[T]{first: n, before: left, left: make(chan int, 1), done: make(chan struct{})}
		last = p.fill(c)
		n, left = n+len(c.given), c.left
		select {
		case order <- c:
		case <-quit:
			return
		}
		p.server.gates.batches.turn()
		running.Go(func() {
			defer p.server.gates.batches.leave()
			p.convert(c)
		})
	}
}

// mostOfChunk is how many bytes of readings end a chunk.
const mostOfChunk = 256 << 10

// fill reads readings into a chunk. It stops early if the client has sent no more yet, since it
// may be waiting for the answer before it sends on.
func (p *pipeline[T]) fill(c *chunk[T]) (last bool) {
	for held := 0; len(c.given) < p.most && held < mostOfChunk && (len(c.given) == 0 || p.feed.ready()); {
		given, size, err := p.feed.next()
		switch {
		case err == io.EOF:
			return true
		case p.link.reads && p.server.isStopping():
			c.end = errStopping
			return true
		case err != nil:
			c.end = err
			return true
		}
		c.given = append(c.given, given)
		held += size
	}
	return false
}

// convert writes the answer to a chunk.
func (p *pipeline[T]) convert(c *chunk[T]) {
	defer close(c.done)
	left := -1 // how many faults may still be described is not known yet
	defer func() {
		if left < 0 {
			left = <-c.before
		}
		c.left <- left
	}()
	defer func() {
		if fault := recover(); fault != nil { // on this goroutine it would end the service
			c.err = fmt.Errorf("convert readings: %v", fault)
		}
	}()
	select {
	case c.text = <-p.spare:
	default:
	}
	var conversion instrument.Conversion // reused for each reading, as nobody keeps it
	for i, given := range c.given {
		var err error
		conversion, err = p.feed.convert(given, left != 0)
		of := outcome{Conversion: &conversion}
		if err != nil {
			if left < 0 {
				left = <-c.before
			}
			of = p.refusal(err, &left)
		}
		c.write(p, i, of, p.feed.own(given))
	}
	if c.end != nil {
		var none T
		c.write(p, len(c.given), outcome{Errors: []api.Fault{{Where: "/", Reason: "the table ends here: " + c.end.Error(), Rule: "csv"}}}, p.feed.own(none))
	}
	c.given = nil
}

func (c *chunk[T]) write(p *pipeline[T], i int, of outcome, own []string) {
	if of.Errors == nil {
		c.good++
	} else {
		c.bad++
	}
	text, err := p.form.item(c.text, c.first+i, of, own)
	c.text, c.err = text, errors.Join(c.err, err)
}

// alsoWrong replaces the faults of a reading once enough others are described.
var alsoWrong = []api.Fault{{Where: "/", Reason: "wrong, too; correct the items described above first", Rule: "untold"}}

// refusal describes as many faults as are left.
func (p *pipeline[T]) refusal(err error, left *int) outcome {
	if !p.together {
		return outcome{Errors: p.server.faultsOf(err, p.feed.place, contract.MaxTold)}
	}
	if *left == 0 {
		return outcome{Errors: alsoWrong}
	}
	faults := p.server.faultsOf(err, p.feed.place, *left)
	*left -= min(*left, len(faults))
	return outcome{Errors: faults}
}

// clientWait is how long a client has to send its next reading and to take an answer.
const clientWait = 30 * time.Second

// link is the connection of an answer in parts.
type link struct {
	*http.ResponseController
	out      io.Writer
	reads    bool            // the request is still being read
	stopping <-chan struct{} // of the service
}

// send sends part of an answer, and gives the client another clientWait to take it and to send on.
func (l link) send(text []byte) error {
	deadline := time.Now().Add(clientWait)
	err := errors.Join(supported(l.SetReadDeadline(deadline)), supported(l.SetWriteDeadline(deadline)))
	select {
	case <-l.stopping: // endReading may have come before the new deadline
		l.stopReading()
	default:
	}
	_, noText := l.out.Write(text)
	return errors.Join(err, noText, supported(l.Flush()))
}

// supported drops the error that deadlines do not exist, as inside the service, where it asks
// itself.
func supported(err error) error {
	if errors.Is(err, http.ErrNotSupported) {
		return nil
	}
	return err
}

// stopReading ends a wait for readings. A body that is read to its end must not be stopped:
// net/http would think that the client had left.
func (l link) stopReading() {
	if l.reads {
		_ = l.SetReadDeadline(time.Unix(1, 0)) // a connection without deadlines ends by itself
	}
}

// endReading ends a wait for the next reading when the service stops, until the returned function
// is called.
func (l link) endReading() (done func()) {
	over := make(chan struct{})
	go func() {
		select {
		case <-l.stopping:
			l.stopReading()
		case <-over:
		}
	}()
	return func() { close(over) }
}

// cut ends an incomplete answer so that nobody can mistake it for a complete one.
func (l link) cut() {
	_ = l.SetWriteDeadline(time.Unix(1, 0)) // so that not even its end can be written
}
