package main

import (
	"bytes"
	"encoding/json"
	"image/png"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

// chat is the chat side: it posts what someone wrote and shows what comes back.
type chat struct{ hook string }

func (c chat) say(t *testing.T, text string) reply {
	t.Helper()
	body, err := json.Marshal(message{text})
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.Post(c.hook, "application/json", bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	var shown reply
	if err := json.NewDecoder(r.Body).Decode(&shown); err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%q: %d, %v", text, r.StatusCode, err)
	}
	return shown
}

func newChat(t *testing.T, service string) chat {
	t.Helper()
	b, err := newBot(service, "")
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(b)
	t.Cleanup(s.Close)
	return chat{s.URL}
}

// Each message is answered in words that hold what it asked for.
func TestAnswers(t *testing.T) {
	c := newChat(t, base)
	for text, wants := range map[string][]string{
		"how much salt for 120 gal at 1.010":                                         {"Dissolve 6.107", "(120 gal)", "I read 1.010 as a specific gravity."},
		"How much marine salt for 454 litres at 1,010?":                              {"Dissolve 6.1", "454 L"},
		"how much salt for 100 L":                                                    {"To what salinity?"},
		"how much salt for 100 L at 35 ppt, and fish food":                           {"Dissolve 3.599", "I did not understand: fish food."},
		"what is 1.010 SG at 25 C":                                                   {"13.3 ppt"},
		"22.1 mS/cm at 77 F?":                                                        {"13.3 ppt"},
		"what salinity for a figure 8 puffer":                                        {"figure-eight puffer", "0 g/kg to 7 g/kg"},
		"plan scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket with an air stone": {"Set the drip to", "Scatophagus argus", "Others of that name"},
		"plan scats from 2 ppt to 10 ppt in a 20 L bucket":                           {"Without an air stone", "I took both waters to be at 25 C.", `say "with an air stone"`},
		"plan zzyzx from 2 ppt to 10 ppt in a 20 L bucket":                           {"I know no animal called zzyzx."},
		"plan the scats":                                                             {"From which salinity to which?"},
		"how much salt for 100 L at 500 ppt":                                         {"target:"},
		"good morning":                                                               {"I did not understand that.", "how much salt for 120 gal at 1.010"},
		"":                                                                           {"I did not understand that."},
		strings.Repeat("salt ", 2000):                                                {"too long"},
	} {
		got := c.say(t, text)
		for _, want := range wants {
			if !strings.Contains(got.Text, want) {
				t.Errorf("%.80q is answered\n%s\nwithout %q", text, got.Text, want)
			}
		}
		if strings.Contains(got.Text, "{") {
			t.Errorf("%.80q is answered with %s", text, got.Text)
		}
	}
}

// The picture that the chat is told of is one.
func TestPicture(t *testing.T) {
	got := newChat(t, base).say(t, "plan scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket with an air stone")
	r, err := http.Get(got.ImageURL)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if picture, err := png.DecodeConfig(r.Body); err != nil || picture.Width != 1200 {
		t.Errorf("%s: %v, %v", got.ImageURL, picture, err)
	}
}

func TestOutOfReach(t *testing.T) {
	nobody := httptest.NewServer(http.NotFoundHandler())
	nobody.Close()
	if got := newChat(t, nobody.URL).say(t, "what is 35 ppt"); !strings.Contains(got.Text, "does not answer just now") {
		t.Errorf("with no service: %s", got.Text)
	}
}

func TestBadPosts(t *testing.T) {
	c := newChat(t, base)
	for method, want := range map[string]int{http.MethodGet: http.StatusMethodNotAllowed, http.MethodPost: http.StatusBadRequest} {
		r, err := http.NewRequestWithContext(t.Context(), method, c.hook, strings.NewReader("hello"))
		if err != nil {
			t.Fatal(err)
		}
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if a.StatusCode != want {
			t.Errorf("%s with no message: %d, want %d", method, a.StatusCode, want)
		}
	}
}
