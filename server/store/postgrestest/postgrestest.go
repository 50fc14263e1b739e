// Package postgrestest starts PostgreSQL for tests: a cluster in a folder of its own,
// which listens on a socket there and on no network.
package postgrestest

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"sync"
	"syscall"
	"testing"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver, which registers itself
)

// Cluster is a server of PostgreSQL and its files.
type Cluster struct {
	dir, bin string
	as       *syscall.SysProcAttr
	process  *exec.Cmd
	ended    chan error // of the process
	log      bytes.Buffer
	made     int // databases
}

// shared is the cluster of a test binary, which its tests share.
var shared struct {
	sync.Mutex
	*Cluster
	err error
}

// Main runs the tests of a package and stops the cluster that they share.
func Main(m *testing.M) int {
	code := m.Run()
	if shared.Cluster != nil {
		shared.Remove()
	}
	return code
}

// Database makes an empty database in the cluster that the tests of a package share,
// and returns its URL. The package's TestMain must call Main.
func Database(t testing.TB) string {
	t.Helper()
	shared.Lock()
	defer shared.Unlock()
	if shared.Cluster == nil && shared.err == nil {
		shared.Cluster, shared.err = New()
	}
	if shared.err != nil {
		t.Fatal(shared.err)
	}
	address, err := shared.Make()
	if err != nil {
		t.Fatal(err)
	}
	return address
}

// New makes a cluster and starts it.
func New() (*Cluster, error) {
	bin, err := programs()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "saltlock-postgres")
	if err != nil {
		return nil, err
	}
	c := &Cluster{dir: dir, bin: bin, as: together()}
	if os.Getuid() == 0 { // as which PostgreSQL does not run
		if err := c.give(); err != nil {
			return nil, errors.Join(err, os.RemoveAll(dir))
		}
	}
	if out, err := c.command("initdb", "--auth=trust", "--username=postgres", "--encoding=UTF8", "--no-sync", "-D", c.data()).CombinedOutput(); err != nil {
		return nil, errors.Join(fmt.Errorf("initdb: %w\n%s", err, out), os.RemoveAll(dir))
	}
	if err := c.Start(); err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	return c, nil
}

// programs is the folder of PostgreSQL's programs.
func programs() (string, error) {
	if path, err := exec.LookPath("initdb"); err == nil {
		return filepath.Dir(path), nil
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb") // where Debian puts them
	if err != nil || len(found) == 0 {
		return "", errors.New("PostgreSQL is missing, and the store is tested on it; to install it: apt-get install postgresql")
	}
	return filepath.Dir(found[len(found)-1]), nil
}

// give makes the folder that of the user postgres, who runs the programs.
func (c *Cluster) give() error {
	who, err := user.Lookup("postgres")
	if err != nil {
		return err
	}
	uid, err := strconv.Atoi(who.Uid)
	if err != nil {
		return err
	}
	gid, err := strconv.Atoi(who.Gid)
	if err != nil {
		return err
	}
	runAs(c.as, uid, gid)
	return os.Chown(c.dir, uid, gid)
}

func (c *Cluster) data() string { return filepath.Join(c.dir, "data") }

func (c *Cluster) command(program string, args ...string) *exec.Cmd {
	cmd := exec.Command(filepath.Join(c.bin, program), args...)
	cmd.Dir, cmd.SysProcAttr = c.dir, c.as
	return cmd
}

// Address is the URL of a database of the cluster.
func (c *Cluster) Address(name string) string {
	return "postgres://postgres@/" + name + "?host=" + url.QueryEscape(c.dir)
}

// startTime is what a start may take; after a crash the log is replayed first.
const startTime = 30 * time.Second

// Start starts the server and waits until it answers.
func (c *Cluster) Start() error {
	db, err := sql.Open("pgx", c.Address("postgres"))
	if err != nil {
		return err
	}
	defer db.Close()
	var failed error
	for end := time.Now().Add(startTime); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if c.process == nil { // it refuses to start while something is left of the one before
			c.log.Reset()
			c.process = c.command("postgres", "-D", c.data(), "-k", c.dir, "-h", "", "-c", "max_connections=200")
			c.process.Stderr = &c.log
			if err := c.process.Start(); err != nil {
				return err
			}
			c.ended = make(chan error, 1)
			go func(p *exec.Cmd) { c.ended <- p.Wait() }(c.process)
		}
		if failed = db.Ping(); failed == nil {
			return nil
		}
		select {
		case <-c.ended:
			c.process = nil
		default:
		}
	}
	return fmt.Errorf("PostgreSQL does not answer: %w\n%s", failed, &c.log)
}

// Kill ends the server and all its processes at once, as kill -9 and a crash do.
func (c *Cluster) Kill() error {
	if c.process == nil {
		return nil
	}
	err := killAll(c.process.Process)
	<-c.ended // its status is that it was ended
	c.process = nil
	return err
}

// Remove ends the server and removes its files.
func (c *Cluster) Remove() error { return errors.Join(c.Kill(), os.RemoveAll(c.dir)) }

// Make makes an empty database and returns its URL.
func (c *Cluster) Make() (string, error) {
	db, err := sql.Open("pgx", c.Address("postgres"))
	if err != nil {
		return "", err
	}
	defer db.Close()
	c.made++
	name := "test" + strconv.Itoa(c.made)
	if _, err := db.Exec("CREATE DATABASE " + name); err != nil {
		return "", err
	}
	return c.Address(name), nil
}
