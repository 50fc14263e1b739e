package main

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// What was acknowledged is there after the process was killed without a warning,
// as by kill -9, in the middle of more writes.
func TestAcknowledgedWritesSurviveKilling(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "saltlock")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	database := filepath.Join(dir, "test.db")
	process, base := launch(t, program, database)
	const body = `{"animals": [{"sensitivity": "hardy"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`
	saved := ask(t, http.MethodPost, base+"/v1/transfers", body, "")
	id, key := saved["id"].(string), saved["key"].(string)
	ask(t, http.MethodPost, base+"/v1/transfers/"+id+"/readings", `{"behaviour": "ok", "note": "the last that was acknowledged"}`, key)

	acknowledged := make(chan []string)
	go func() { // others write while it dies
		var ids []string
		for {
			r, err := http.Post(base+"/v1/transfers", "application/json", strings.NewReader(body))
			if err != nil {
				break
			}
			var v struct{ ID string }
			err = json.NewDecoder(r.Body).Decode(&v)
			r.Body.Close()
			if err != nil || r.StatusCode != http.StatusCreated {
				break
			}
			ids = append(ids, v.ID)
		}
		acknowledged <- ids
	}()
	time.Sleep(300 * time.Millisecond)
	if err := process.Kill(); err != nil {
		t.Fatal(err)
	}
	if state, err := process.Wait(); err != nil || state.Success() {
		t.Fatalf("killed: %v, %v", state, err)
	}
	ids := <-acknowledged

	again, base := launch(t, program, database)
	defer again.Kill()
	read := ask(t, http.MethodGet, base+"/v1/transfers/"+id, "", "")
	log, _ := read["log"].([]any)
	if len(log) != 1 || log[0].(map[string]any)["note"] != "the last that was acknowledged" {
		t.Errorf("the log is %v", log)
	}
	if len(ids) == 0 {
		t.Error("nobody else wrote")
	}
	for _, id := range ids {
		ask(t, http.MethodGet, base+"/v1/transfers/"+id, "", "")
	}
	ask(t, http.MethodPatch, base+"/v1/transfers/"+id, `{"note": "still open"}`, key)
}

// launch starts the program and returns its process and address.
func launch(t *testing.T, program, database string) (*os.Process, string) {
	t.Helper()
	cmd := exec.Command(program, "serve", "--addr", "127.0.0.1:0", "--database", database)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if base := regexp.MustCompile(`http://127\.0\.0\.1:\d+`).FindString(lines.Text()); base != "" {
			return cmd.Process, base
		}
	}
	t.Fatal("the program does not say where it listens")
	return nil, ""
}

// ask sends a request and returns the object that answers it.
func ask(t *testing.T, method, url, body, key string) map[string]any {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	if key != "" {
		r.Header.Set("Authorization", "Bearer "+key)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode >= 300 {
		t.Fatalf("%s %s: %s, %v\n%.500s", method, url, answer.Status, err, text)
	}
	var v map[string]any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	return v
}
