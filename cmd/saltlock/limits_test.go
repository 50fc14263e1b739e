package main

import (
	"flag"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// asProgram, when it is set, makes this test binary act as the program.
const asProgram = "SALTLOCK_TEST_IS_THE_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	if err := os.Setenv(asProgram, "yes"); err != nil { // of the processes that tests start
		panic(err)
	}
	flag.Parse()
	if at := flag.Lookup("test.parallel"); at.Value.String() == at.DefValue { // the parallel tests only wait
		if err := at.Value.Set("8"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}

// theProgram is the path of the program, to be run in its own process.
func theProgram(t *testing.T) string {
	t.Helper()
	path, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// With every descriptor in use, new clients wait; connected ones are answered, and once some have
// left, all are.
func TestDescriptorsExhausted(t *testing.T) {
	dir := t.TempDir()
	program := theProgram(t)
	shell := filepath.Join(dir, "few")
	if err := exec.Command("sh", "-c", `printf '#!/bin/sh\nulimit -n 40\nexec "`+program+`" "$@"\n' > "`+shell+`" && chmod +x "`+shell+`"`).Run(); err != nil {
		t.Fatal(err)
	}
	process, base := launch(t, shell, filepath.Join(dir, "test.db"))
	defer process.Kill()
	address := strings.TrimPrefix(base, "http://")
	first, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	if code := health(t, first); code != "200" {
		t.Fatal(code)
	}
	var crowd []net.Conn
	for range 60 {
		c, err := net.DialTimeout("tcp", address, time.Second)
		if err != nil {
			break
		}
		crowd = append(crowd, c)
	}
	if code := health(t, first); code != "200" {
		t.Errorf("with all descriptors in use: %s", code)
	}
	for _, c := range crowd {
		c.Close()
	}
	client := http.Client{Timeout: 10 * time.Second}
	for range 5 {
		r, err := client.Get(base + "/readyz")
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != http.StatusOK {
			t.Errorf("/readyz afterwards: %d", r.StatusCode)
		}
	}
}
