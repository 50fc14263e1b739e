package main

import (
	"bytes"
	"encoding/json"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// base is where the real program answers.
var base string

func TestMain(m *testing.M) { os.Exit(live.Main(m, &base)) }

// chat is a fake chat: it passes on what a person types, and shows the reply, with the picture
// fetched by its URL as chats do.
type chat struct {
	bot   string // where the bot listens
	shown []string
}

func (c *chat) say(t *testing.T, text string) reply {
	t.Helper()
	body, err := json.Marshal(map[string]string{"text": text})
	if err != nil {
		t.Fatal(err)
	}
	r, err := http.Post(c.bot, "application/json", bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	var answer reply
	if err := json.NewDecoder(r.Body).Decode(&answer); err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%q: %s, %v", text, r.Status, err)
	}
	c.shown = append(c.shown, answer.Text)
	if answer.ImageURL != "" {
		c.unfold(t, answer.ImageURL)
	}
	return answer
}

// unfold fetches a picture: first its head, then the picture.
func (c *chat) unfold(t *testing.T, url string) {
	t.Helper()
	head, err := http.Head(url)
	if err != nil {
		t.Fatal(err)
	}
	head.Body.Close()
	if got := head.Header.Get("Content-Type"); head.StatusCode != http.StatusOK || got != "image/png" {
		t.Fatalf("HEAD %s: %s, %s", url, head.Status, got)
	}
	r, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	picture, err := png.DecodeConfig(r.Body)
	if err != nil {
		t.Fatalf("%s: %v", url, err)
	}
	if picture.Width < 600 || picture.Height < 300 {
		t.Errorf("%s is %d x %d", url, picture.Width, picture.Height)
	}
}

func start(t *testing.T, service string) *chat {
	t.Helper()
	live.Watch(t)
	b, err := newBot(service, "")
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(b)
	t.Cleanup(s.Close)
	return &chat{bot: s.URL}
}

const scats = "plan 4 young spotted scats of 1 g from 2 ppt to 10 ppt at 26 C in a 20 L bucket with 6 L and an air stone"

func TestAnswers(t *testing.T) {
	c := start(t, base)
	for _, q := range []struct {
		text    string
		picture bool
		has     []string
	}{
		{"how much salt for 120 gal at 1.010", false, []string{"Start with 13.5 lb", "120 gal at 13.3 ppt", "I read 1.010 as specific gravity."}},
		{"How much marine salt do I need for 450 liters at 10 ppt at 26 C?", false, []string{"Start with 4.5", "450 L"}},
		{"how much sea salt for 450 L at 10 ppt from 2 ppt", false, []string{"Start with 3.6"}},
		{"how much salt for 120 gal at 1.010 under a clear sky", false, []string{"Start with 13.5 lb", "I did not understand: clear sky"}},
		{"how much salt for 120 gal at 35", false, []string{"the unit is missing"}},
		{"how much salt for 120 gal at 1,010", false, []string{"Start with 13,5 lb", "I read 1,010 as specific gravity."}},
		{"how much salt for 450,5 L at 10,5 ppt", false, []string{"Start with 4.7", "at 10.5 ppt"}},
		{"how much salt for 450,5 L at 1.010", false, []string{"I did not understand which marks the decimals"}},
		{"what is 1.010 SG at 25 C", false, []string{"13.3 ppt"}},
		{"What is 1,010 SG at 25,5 °C?", false, []string{"13.3 ppt", "at 25.5 °C"}},
		{"convert 1.010 SG to ppt at 25 C", false, []string{"13.3 ppt"}},
		{"1.010 SG to ppt", false, []string{"13.3 ppt", "I read no temperature, and took 25 °C"}},
		{"SG 1.026 in ppt?", false, []string{"ppt", "took 25 °C"}},
		{"how many pounds of salt for 20 gallons at sg 1.015?", false, []string{"Start with 3.4 lb"}},
		{"plan 4 young spotted scats of 1 g from 5 ppt to 8 ppt at 26 C in a 20 L bucket with 6 L and an air stone. They look sick and do not eat.", false, []string{"Do not change its salinity now", "ask a vet"}},
		{"how much salt for 60 L at 10 ppt for my goldfish with ich", false, []string{"Do not change its salinity now"}},
		{"how do I move my spotted scats to saltwater?", false, []string{"Say from which water", "“saltwater” as 35 ppt"}},
		{"How do I move my scats to saltwater?", false, []string{"“scats” may mean 3 species. Ask again"}},
		{"how can I acclimate my spotted scats to brackish water from 2 ppt at 26 C", false, []string{"“brackish water” can be many waters"}},
		{"how do I move 4 young spotted scats of 1 g from 2 ppt to 10 ppt at 78 F in a 5 gallon bucket with 1.5 gal and an air stone", true, []string{"until the container holds 2 gal"}},
		{"SG to ppt", false, []string{"Say the reading"}},
		{"what salinity for a figure 8 puffer", false, []string{"0 to 10 ppt", "“figure 8 puffer” was understood as figure-eight puffer (Dichotomyctere ocellatus)"}},
		{"what salinity does a figure 8 puffer need?", false, []string{"0 to 10 ppt"}},
		{"what salinity for a zebra puffer", false, []string{"“zebra puffer” is not in the table."}},
		{"what salinity for zzqqxx", false, []string{"“zzqqxx” is not in the table."}},
		{"what salinity for fish", false, []string{"“fish” may mean "}},
		{"what is 1.010 SG at 25 C, and how much salt for 120 gal at 1.010?", false, []string{"13.3 ppt", "Start with 13.5 lb"}},
		{"what salinity for a figure 8 puffer? " + scats, true, []string{"0 to 10 ppt", "Pour off"}},
		{"plan spotted scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket", false, []string{"container aerated: Put an air stone", "(say: with an air stone)", "I read “spotted scats” as spotted scat (Scatophagus argus)"}},
		{"plan spotted scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket with an air stone", true, []string{"drip"}},
		{"plan spotted scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket without an air stone", false, []string{"Without one, salt water sinks"}},
		{"plan spotted scats from 2 ppt to 10 ppt at 26 C in a 20 L bucket with no air stone", false, []string{"Without one, salt water sinks"}},
		{"plan spotted scats from 2 ppt at 24 C to 10 ppt at 26 C in a 20 L bucket with an air stone", true, []string{"drip"}},
		{"plan", false, []string{"Say from which water"}},
		{"what salinity do scats need", false, []string{"“scats” may mean 3 species. Ask again", "Scatty (Scatophagus tetracanthus)"}},
		{"plan scats from 2 ppt to 10 ppt at 26 C", false, []string{"“scats” may mean 3 species. Ask again"}},
		{"what salinity for spoted scats", false, []string{"Did you mean spotted scat (Scatophagus argus)?"}},
		{"I plan to keep spotted scats, what salinity do spotted scats need", false, []string{"Spotted scat (Scatophagus argus). Keep larvae"}},
		{scats + " and " + scats, true, []string{"Its picture: http://"}},
		{"plan zebra puffers from 2 ppt to 10 ppt at 26 C", false, []string{"“zebra puffers” is not in the table."}},
		{strings.Repeat("salt ", 2048), false, []string{"10240 characters", "I have read none of it"}},
		{"how much salt at 1.010", false, []string{"Say for how much water"}},
		{"how much salt for 20 gal", false, []string{"Say how salty"}},
		{scats, true, []string{"drip", "“spotted scats” as spotted scat (Scatophagus argus)", "26 C as the temperature of both waters"}},
		{strings.Replace(scats, " in a 20 L bucket with 6 L and an air stone", "", 1), false, []string{"container aerated: Drip them over in a bucket or box with an air stone", "(say: with an air stone)"}},
		{"plan spotted scats from 2 ppt to 10 ppt at 26 C with an air stone", false, []string{"mark"}}, // of an unknown bucket
		{strings.Replace(scats, " at 26 C", "", 1), false, []string{"Say how warm"}},
		{strings.Replace(scats, " from 2 ppt", "", 1), false, []string{"Say from which water"}},
		{strings.Replace(scats, "spotted scats", "zzqqxx", 1), false, []string{"“zzqqxx” is not in the table."}},
		{"plan young spotted scats from 9 ppt to 10 ppt at 26 C", false, []string{"in one step"}},
		{"what is the weather", false, []string{"I did not understand that", "how much salt for"}},
		{"", false, []string{"Your message is empty"}},
		{" \n", false, []string{"Your message is empty"}},
	} {
		answer := c.say(t, q.text)
		for _, want := range q.has {
			if !strings.Contains(answer.Text, want) {
				t.Errorf("%q is answered\n%s\nwant %q in it", q.text, answer.Text, want)
			}
		}
		if (answer.ImageURL != "") != q.picture {
			t.Errorf("%q has the picture %q, want one: %v", q.text, answer.ImageURL, q.picture)
		}
		if understood := !strings.Contains(strings.Join(q.has, ""), "not understand"); understood && strings.Contains(answer.Text, "not understand") {
			t.Errorf("%q: %s", q.text, answer.Text)
		}
	}
}

// Of many faults the first ones are answered, in words.
func TestManyFaults(t *testing.T) {
	c := start(t, base)
	got := c.say(t, "plan 0 spotted scats of "+strings.Repeat("9", 400)+" g from 2 to 10 at 26 C in a 20 L bucket").Text
	if !strings.Contains(got, "\nand 1 more\n") || strings.ContainsAny(got, "{}") {
		t.Errorf("answered %q", got)
	}
}

// Both temperatures of a plan are in the picture's query, each in its place.
func TestPictureAsksTheSame(t *testing.T) {
	c := start(t, base)
	got := c.say(t, "plan spotted scats from 2 ppt at 24,5 C to 10 ppt at 26 C in a 20 L bucket with an air stone").ImageURL
	u, err := url.Parse(got)
	if err != nil {
		t.Fatal(err)
	}
	if u.Path != "/v1/transfers/plan.png" {
		t.Errorf("path %s", u.Path)
	}
	for name, want := range map[string]string{"species": "scatophagus-argus", "from_temperature": "24,5 C", "to_temperature": "26 C",
		"from_salinity": "2 ppt", "to_salinity": "10 ppt", "container_capacity": "20 L", "container_aerated": "true", "decimal": "comma"} {
		if u.Query().Get(name) != want {
			t.Errorf("%s is %q, want %q", name, u.Query().Get(name), want)
		}
	}
}

// When the service is away the bot says so, in time for the chat.
func TestServiceAway(t *testing.T) {
	c := start(t, "http://127.0.0.1:9")
	if got := c.say(t, "how much salt for 120 gal at 1.010"); !strings.Contains(got.Text, "does not answer") {
		t.Errorf("answered %q", got.Text)
	}
}

func TestDoor(t *testing.T) {
	c := start(t, base)
	r, err := http.Get(c.bot)
	if err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("GET: %s", r.Status)
	}
	if r, err = http.Post(c.bot, "application/json", strings.NewReader("no JSON")); err != nil {
		t.Fatal(err)
	}
	r.Body.Close()
	if r.StatusCode != http.StatusBadRequest {
		t.Errorf("no JSON: %s", r.Status)
	}
}
