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
	"strconv"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // quiet hours go by the keeper's clock, also on a machine without zones

	"saltlock/server"
	"saltlock/server/store"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
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
  saltlock version         print the version
`

// run is the program without the process around it. getenv gives SALTLOCK_*
// settings, which flags override.
func run(ctx context.Context, args []string, getenv func(string) string, out io.Writer) error {
	switch command := append(args, "")[0]; command {
	case "serve":
		return serve(ctx, args[1:], getenv, out)
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

// serve runs the server until ctx ends, then lets requests in hand finish.
func serve(ctx context.Context, args []string, getenv func(string) string, out io.Writer) error {
	flags := flag.NewFlagSet("saltlock serve", flag.ContinueOnError)
	flags.SetOutput(out)
	addr := flags.String("addr", either(getenv("SALTLOCK_ADDR"), "127.0.0.1:8080"), "address to listen on ($SALTLOCK_ADDR)")
	database := flags.String("database", either(getenv("SALTLOCK_DATABASE"), "saltlock.db"), "SQLite file, made if it is not there ($SALTLOCK_DATABASE)")
	supplement := flags.String("supplement", getenv("SALTLOCK_SUPPLEMENT"), "CSV file of your own species, in the form of the built-in table ($SALTLOCK_SUPPLEMENT)")
	public := flags.String("public-url", getenv("SALTLOCK_PUBLIC_URL"), "address that people reach it by, for examples and previews of links ($SALTLOCK_PUBLIC_URL); the listening address if not given")
	operator := flags.String("operator", getenv("SALTLOCK_OPERATOR"), "who runs this server, as its pages say it ($SALTLOCK_OPERATOR)")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("serve takes no %q; see saltlock serve -h", flags.Arg(0))
	}
	var supplements []string
	if *supplement != "" {
		supplements = append(supplements, *supplement)
	}
	db, err := store.Open(ctx, *database, supplements...)
	if err != nil {
		return err
	}
	defer db.Close()
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return err
	}
	base := baseURL(listener.Addr().(*net.TCPAddr))
	log := slog.New(slog.NewTextHandler(os.Stderr, nil))
	stopping := make(chan struct{})
	context.AfterFunc(ctx, func() { time.AfterFunc(lastRows, func() { close(stopping) }) })
	handler, err := server.New(server.Options{Store: db, Log: log, PublicURL: strings.TrimRight(either(*public, base), "/"), Operator: *operator, Stopping: stopping})
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	greet(out, base, *database)
	return answer(ctx, listener, handler)
}

// baseURL is where a browser on this machine finds the address listened on.
func baseURL(a *net.TCPAddr) string {
	host := a.IP.String()
	if a.IP.IsUnspecified() { // every interface
		host = "localhost"
	}
	return "http://" + net.JoinHostPort(host, strconv.Itoa(a.Port))
}

// When the program stops, answers in hand have lastAnswers to finish; a table
// that is still being sent is cut after lastRows, with a word about it.
const (
	lastRows    = 5 * time.Second
	lastAnswers = 15 * time.Second
)

// answer serves on the listener until ctx ends.
func answer(ctx context.Context, listener net.Listener, handler http.Handler) error {
	s := &http.Server{Handler: handler, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second, IdleTimeout: 120 * time.Second}
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

// greet tells where the service is and how to ask it something at once.
func greet(out io.Writer, base, database string) {
	fmt.Fprintf(out, `Saltlock %s listens on %s (species table in %s)
Try:            curl '%s/v1/mixes/salt?target=1.010%%20SG&volume=450L&format=text'
In a browser:   %s/
Documentation:  %s/docs
`, server.Version, base, database, base, base, base)
}

// either is the first of two texts that says something.
func either(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
