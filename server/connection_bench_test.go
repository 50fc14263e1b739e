package server_test

import (
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"sync"
	"testing"
	"time"
)

// askedConn is a connection in memory that asks one question after the other, each once the last
// is answered, and throws the answers away.
type askedConn struct {
	ask   func() string // empty at the end
	left  string
	ended chan struct{}

	mu   sync.Mutex
	past bool // a read waits no longer
	told sync.Cond
}

func (c *askedConn) Read(p []byte) (int, error) {
	if len(p) == 1 { // net/http listens during an answer whether the client goes away
		c.mu.Lock()
		defer c.mu.Unlock()
		for !c.past {
			c.told.Wait()
		}
		return 0, os.ErrDeadlineExceeded
	}
	if c.left == "" {
		if c.left = c.ask(); c.left == "" {
			return 0, io.EOF
		}
	}
	n := copy(p, c.left)
	c.left = c.left[n:]
	return n, nil
}

func (c *askedConn) SetReadDeadline(t time.Time) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.past = !t.IsZero() && t.Before(time.Now())
	c.told.Broadcast()
	return nil
}

func (c *askedConn) Write(p []byte) (int, error)      { return len(p), nil }
func (c *askedConn) SetDeadline(time.Time) error      { return nil }
func (c *askedConn) SetWriteDeadline(time.Time) error { return nil }
func (c *askedConn) LocalAddr() net.Addr              { return &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 80} }
func (c *askedConn) RemoteAddr() net.Addr {
	return &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 50_000}
}

func (c *askedConn) Close() error {
	close(c.ended)
	return nil
}

// oneConn is a listener to which one client comes.
type oneConn chan net.Conn

func (l oneConn) Close() error   { return nil }
func (l oneConn) Addr() net.Addr { return &net.TCPAddr{} }
func (l oneConn) Accept() (net.Conn, error) {
	if c, ok := <-l; ok {
		return c, nil
	}
	return nil, net.ErrClosed
}

// BenchmarkConnection is BenchmarkAnswer with net/http around it, but without the kernel.
func BenchmarkConnection(b *testing.B) {
	s := newService(b)
	for name, format := range map[string]string{
		"conversion": "/v1/conversions?reading=%d.%05d(2)%%20mS/cm&temperature=25.5(5)%%20C",
		"salt":       "/v1/mixes/salt?target=%d.%05d%%20ppt&volume=400%%20L&temperature=25%%20C",
		"species":    "/v1/species/scatophagus-argus?again=%d%05d",
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			i := 0
			c := &askedConn{ended: make(chan struct{}), ask: func() string {
				if i++; i > b.N {
					return ""
				}
				return "GET " + fmt.Sprintf(format, 10+i%25, i/25%100000) + " HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"
			}}
			c.told.L = &c.mu
			door := make(oneConn, 1)
			door <- c
			close(door)
			server := &http.Server{Handler: s.Config.Handler, ReadTimeout: time.Minute, WriteTimeout: time.Minute, IdleTimeout: time.Minute}
			if err := server.Serve(door); err != net.ErrClosed {
				b.Fatal(err)
			}
			<-c.ended
			if i <= b.N {
				b.Fatalf("the connection ended after %d of %d requests", i, b.N)
			}
		})
	}
}
