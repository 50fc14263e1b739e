// Saltlock serves the calculator over HTTP.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"
	_ "time/tzdata" // quiet hours follow the keeper's clock, even on a machine without zones

	"golang.org/x/net/netutil"

	"saltlock/server"
	"saltlock/server/store"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	if err := run(ctx, os.Args[1:], os.Getenv, os.Stdout); err != nil {
		if !errors.Is(err, flag.ErrHelp) {
			fmt.Fprintln(os.Stderr, "saltlock:", err)
		}
		os.Exit(2)
	}
}

const usage = `Saltlock computes what a keeper must know to move animals between fresh,
brackish and sea water.

  saltlock serve [flags]   answer over HTTP until interrupted
  saltlock config [flags]  print every setting, and where it comes from
  saltlock version         print the version

These read or write a FILE. They take the flags of serve, most often --database:

  saltlock backup FILE     copy a SQLite database while it is in use
  saltlock export FILE     write all saved transfers as JSON Lines
  saltlock import FILE     add the transfers of an export, to either kind of database
`

// run is the program without the process around it. getenv gives the SALTLOCK_* settings; flags
// override them.
func run(ctx context.Context, args []string, getenv func(string) string, out io.Writer) error {
	switch command := append(args, "")[0]; command {
	case "serve":
		return serve(ctx, args[1:], getenv, out)
	case "config":
		set, err := settingsOf("config", args[1:], 0, getenv, out)
		if err != nil {
			return err
		}
		set.print(out)
		return nil
	case "backup", "export", "import":
		return carry(ctx, command, args[1:], getenv, out)
	case "version":
		fmt.Fprintln(out, "saltlock", server.Version, "data", store.DataVersion())
		return nil
	case "", "help", "-h", "--help":
		fmt.Fprint(out, usage)
		return nil
	default:
		return fmt.Errorf("no command %q; try: saltlock serve", command)
	}
}

// serve runs the server until ctx ends, then lets open requests finish.
func serve(ctx context.Context, args []string, getenv func(string) string, out io.Writer) error {
	set, err := settingsOf("serve", args, 0, getenv, out)
	if err != nil {
		return err
	}
	collectLess(getenv)
	listener, err := net.Listen("tcp", set.addr)
	if err != nil {
		return err
	}
	defer listener.Close() // if serving never begins
	base := baseURL(listener.Addr().(*net.TCPAddr))
	publicURL := strings.TrimRight(either(set.publicURL, base), "/")
	contract := begin(func() (*server.Contract, error) { return server.ReadContract(publicURL) })
	db, err := store.Open(ctx, set.database, set.supplements()...)
	if err != nil {
		return err
	}
	defer db.Close()
	db.MostTransfers, db.Reserve = set.mostTransfers, uint64(max(0, set.diskReserve))*1e6
	if set.databaseLimit > 0 {
		if err := db.Limit(ctx, int64(set.databaseLimit)*1e6); err != nil {
			return err
		}
	}
	log := slog.New(slog.NewTextHandler(os.Stderr, nil))
	stopping := make(chan struct{})
	drained, stopServing := context.WithCancel(context.WithoutCancel(ctx))
	defer stopServing()
	context.AfterFunc(ctx, func() { time.AfterFunc(set.drainWait, stopServing) })
	context.AfterFunc(drained, func() { time.AfterFunc(lastRows, func() { close(stopping) }) })
	read, err := contract()
	if err != nil {
		return err
	}
	tracer, flush, err := tracing(ctx, log, getenv)
	if err != nil {
		return err
	}
	defer flush()
	handler, err := server.New(server.Options{Store: db, Contract: read, Log: log, Tracer: tracer, PublicURL: publicURL, Operator: set.operator,
		PlanTime: set.planTime, Rates: set.rates, TrustedProxies: set.proxies, Draining: ctx.Done(), Stopping: stopping})
	if err != nil {
		return err
	}
	letGo()
	greet(out, base, store.Shown(set.database))
	return answer(drained, netutil.LimitListener(listener, set.mostConnections), handler)
}

// begin runs something in the background; the function it returns waits for the end.
func begin[T any](do func() (T, error)) (end func() (T, error)) {
	once := sync.OnceValues(do)
	go func() { _, _ = once() }() // whoever waits sees the error
	return once
}

// baseURL is where a browser on this machine finds the listener.
func baseURL(a *net.TCPAddr) string {
	host := a.IP.String()
	if a.IP.IsUnspecified() { // every interface
		host = "localhost"
	}
	return "http://" + net.JoinHostPort(host, strconv.Itoa(a.Port))
}

// When the program stops, answers in progress have lastAnswers to finish; a table still being sent
// is cut after lastRows, with a note saying so.
const (
	lastRows    = 5 * time.Second
	lastAnswers = 15 * time.Second
)

// mostHeader bounds the head of a request, including its address, and slowestHead how long it may
// take to arrive.
const (
	mostHeader  = 16 << 10
	slowestHead = 10 * time.Second
)

// answer serves on the listener until ctx ends.
func answer(ctx context.Context, listener net.Listener, handler http.Handler) error {
	s := &http.Server{Handler: handler, ReadHeaderTimeout: slowestHead, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second, IdleTimeout: 120 * time.Second, MaxHeaderBytes: mostHeader, ConnState: takeTurns}
	failed := make(chan error, 1)
	go func() { failed <- s.Serve(listener) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.Background(), lastAnswers)
	defer cancel()
	return s.Shutdown(grace)
}

// takeTurns lets all others go on before a connection reads its next request. One whose next
// request has come by the time its answer is written never waits for anything, and with every
// core busy the others would wait for it: up to 10 ms, until the runtime looks. It waits here,
// and not within a request, whose connection net/http would read from meanwhile in vain.
func takeTurns(_ net.Conn, now http.ConnState) {
	if now == http.StateIdle {
		runtime.Gosched()
	}
}

// greet says where the service is, with a first question to ask it.
func greet(out io.Writer, base, database string) {
	fmt.Fprintf(out, `Saltlock %s listens on %s (species table in %s)
Try:            curl '%s/v1/mixes/salt?target=1.010%%20SG&volume=450L&format=text'
In a browser:   %s/
Documentation:  %s/docs
`, server.Version, base, database, base, base, base)
}

// either is the first of two texts that is not empty.
func either(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
