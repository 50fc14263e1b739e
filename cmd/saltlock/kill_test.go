package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
)

// kills is how often the program is killed; .ci/run and the soak do it more often.
func kills(t *testing.T) int {
	text := os.Getenv("SALTLOCK_KILLS")
	if text == "" {
		return 3
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// What was acknowledged is still there after the process was killed without warning, as by kill
// -9, in the middle of more writes, again and again.
func TestAcknowledgedWritesSurviveKilling(t *testing.T) {
	dir := t.TempDir()
	program := theProgram(t)
	database := filepath.Join(dir, "test.db")
	process, base := launch(t, program, database)
	const body = `{"animals": [{"sensitivity": "hardy"}], "from": {"salinity": "2 ppt", "temperature": "26 C"}, "to": {"salinity": "5 ppt", "temperature": "26 C"}}`
	saved := ask(t, http.MethodPost, base+"/v1/transfers", body, "")
	id, key := saved["id"].(string), saved["key"].(string)
	var ids, notes []string
	for n := range kills(t) {
		var writers []<-chan acknowledged
		for w := range writersAtOnce {
			writers = append(writers, writeUntilKilled(base, id, key, fmt.Sprintf("%d.%d", n, w), body))
		}
		time.Sleep(time.Duration(50+37*n%300) * time.Millisecond)
		if err := process.Kill(); err != nil {
			t.Fatal(err)
		}
		if state, err := process.Wait(); err != nil || state.Success() {
			t.Fatalf("killed: %v, %v", state, err)
		}
		for _, w := range writers {
			got := <-w
			ids, notes = append(ids, got.ids...), append(notes, got.notes...)
		}
		process, base = launch(t, program, database)
	}
	defer process.Kill()
	if len(ids) == 0 || len(notes) == 0 {
		t.Errorf("%d transfers and %d readings were acknowledged", len(ids), len(notes))
	}
	for _, id := range ids {
		ask(t, http.MethodGet, base+"/v1/transfers/"+id, "", "")
	}
	logged := map[string]int{}
	for _, entry := range ask(t, http.MethodGet, base+"/v1/transfers/"+id, "", "")["log"].([]any) {
		logged[entry.(map[string]any)["note"].(string)]++
	}
	for _, note := range notes {
		if logged[note] != 1 {
			t.Errorf("the reading %s is there %d times", note, logged[note])
		}
	}
	ask(t, http.MethodPatch, base+"/v1/transfers/"+id, `{"note": "still open"}`, key)
	t.Logf("%d transfers and %d readings were acknowledged around %d kills", len(ids), len(notes), kills(t))
}

// writersAtOnce write to the same transfer at the same time.
const writersAtOnce = 3

// acknowledged is what the program said it had stored.
type acknowledged struct{ ids, notes []string }

// writeUntilKilled saves transfers and logs readings, one after another, until the program no
// longer answers.
func writeUntilKilled(base, id, key, round, body string) <-chan acknowledged {
	done := make(chan acknowledged, 1)
	go func() {
		var all acknowledged
		defer func() { done <- all }()
		for i := 0; ; i++ {
			saved, err := post(base+"/v1/transfers", body, "")
			if err != nil {
				return
			}
			all.ids = append(all.ids, saved)
			note := fmt.Sprintf("%s.%d", round, i)
			if _, err := post(base+"/v1/transfers/"+id+"/readings", `{"behaviour": "ok", "note": "`+note+`"}`, key); err != nil {
				return
			}
			all.notes = append(all.notes, note)
		}
	}()
	return done
}

// post sends a change, and returns the id in the answer if the change was made.
func post(url, body, key string) (string, error) {
	if key == "" {
		return send(url, body)
	}
	return send(url, body, "Authorization", "Bearer "+key)
}

// send is post with any headers, in pairs.
func send(url, body string, headers ...string) (string, error) {
	r, err := http.NewRequest(http.MethodPost, url, strings.NewReader(body))
	if err != nil {
		return "", err
	}
	r.Header.Set("Content-Type", "application/json")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	var v struct{ ID string }
	if err := json.NewDecoder(answer.Body).Decode(&v); err != nil {
		return "", err
	}
	if answer.StatusCode != http.StatusCreated {
		return "", fmt.Errorf("%s", answer.Status)
	}
	return v.ID, nil
}

// launch starts the program and returns its process and address.
func launch(t *testing.T, program, database string) (*os.Process, string) {
	t.Helper()
	cmd := exec.Command(program, "serve", "--addr", "127.0.0.1:0", "--database", database, "--writes-per-minute", "0")
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
