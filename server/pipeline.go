package server

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"net/http"
	"runtime"
	"sync"
	"time"

	"saltlock/server/render"
)

// rowsAtOnce are converted together, and sent together, at the most.
const rowsAtOnce = 250

// pipeline converts a table by all cores: one goroutine reads chunks of rows, as many
// as there are cores convert them, and the caller's sends them in the order in which
// they were read. Only so many chunks are under way that the memory stays flat, and
// that a client which does not read is not read from.
type pipeline struct {
	server    *Server
	table     *tableConversion
	link      *http.ResponseController
	out       io.Writer
	separator rune
	in        *csv.Reader
	buffered  *bufio.Reader
	limit     *rowLimit
	good, bad int
}

// chunk is some rows, and what they become.
type chunk struct {
	rows      [][]string
	end       error // why no more can be read, for a last row that says so
	text      bytes.Buffer
	good, bad int
	err       error
	done      chan struct{} // closed when text is written
}

// run answers the whole table.
func (p *pipeline) run() error {
	head := p.chunk()
	head.write(p, p.table.head)
	if err := p.send(head); err != nil {
		return err
	}
	cores := runtime.GOMAXPROCS(0)
	work, order, quit := make(chan *chunk, cores), make(chan *chunk, 2*cores), make(chan struct{})
	var running sync.WaitGroup
	for range cores {
		running.Go(func() {
			for c := range work {
				p.convert(c)
			}
		})
	}
	running.Go(func() { p.read(work, order, quit) })
	var err error
	for c := range order {
		if <-c.done; err != nil {
			continue
		}
		if err = errors.Join(c.err, p.send(c)); err != nil {
			close(quit)
			_ = p.link.SetReadDeadline(time.Unix(1, 0)) // ends a wait for rows that nobody will get
		}
	}
	running.Wait()
	return err
}

// read makes chunks until the table ends, the service stops or nobody wants more. A
// chunk ends early where the client has sent no more yet, since it may be waiting for
// the answer before it sends on.
func (p *pipeline) read(work, order chan<- *chunk, quit <-chan struct{}) {
	defer close(work)
	defer close(order)
	for last := false; !last; {
		c := p.chunk()
		for len(c.rows) < rowsAtOnce && (len(c.rows) == 0 || p.buffered.Buffered() > 0) {
			p.limit.left = maxRow
			record, err := p.in.Read()
			switch {
			case err == io.EOF:
				last = true
			case p.server.isStopping():
				c.end, last = errStopping, true
			case err != nil:
				c.end, last = err, true
			default:
				c.rows = append(c.rows, record)
			}
			if last {
				break
			}
		}
		select {
		case order <- c:
			work <- c
		case <-quit:
			return
		}
	}
}

func (p *pipeline) chunk() *chunk { return &chunk{done: make(chan struct{})} }

// convert writes the answer to a chunk.
func (p *pipeline) convert(c *chunk) {
	defer close(c.done)
	defer func() {
		if fault := recover(); fault != nil { // which on this goroutine would end the service
			c.err = fmt.Errorf("convert a table: %v", fault)
		}
	}()
	w := c.writer(p)
	var row []string
	for _, record := range c.rows {
		var good bool
		if row, good = p.table.row(p.server, row[:0], record); good {
			c.good++
		} else {
			c.bad++
		}
		c.err = errors.Join(c.err, writeRow(w, row))
	}
	if c.end != nil {
		c.bad++
		c.err = errors.Join(c.err, writeRow(w, p.table.broken(c.end)))
	}
	w.Flush()
	c.rows = nil
}

func (c *chunk) writer(p *pipeline) *csv.Writer {
	w := csv.NewWriter(&c.text)
	w.Comma, w.UseCRLF = p.separator, true
	return w
}

// write is convert for one row that is written already.
func (c *chunk) write(p *pipeline, row []string) {
	w := c.writer(p)
	c.err = writeRow(w, row)
	w.Flush()
}

func writeRow(w *csv.Writer, row []string) error {
	for i, cell := range row {
		row[i] = render.Harmless(cell)
	}
	return w.Write(row)
}

// send sends a chunk's answer; the client has patience more for it, and for the next rows.
func (p *pipeline) send(c *chunk) error {
	deadline := time.Now().Add(patience)
	err := errors.Join(p.link.SetReadDeadline(deadline), p.link.SetWriteDeadline(deadline))
	if p.server.isStopping() { // endReading may have come before the new deadline
		err = errors.Join(err, p.link.SetReadDeadline(time.Unix(1, 0)))
	}
	_, noText := p.out.Write(c.text.Bytes())
	p.good, p.bad = p.good+c.good, p.bad+c.bad
	return errors.Join(err, noText, p.link.Flush())
}
