// Chatbot is an example: it answers questions of keepers in a chat with what a
// Saltlock server says.
//
// The chat side posts {"text": "how much salt for 120 gal at 1.010"} and shows
// the text and the picture of what comes back.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"net/http"
	"os"
	"strings"
	"time"

	saltlock "saltlock/clients/go"
)

func main() {
	addr := flag.String("addr", "127.0.0.1:8090", "address to listen on")
	service := flag.String("service", "http://127.0.0.1:8080", "address of the Saltlock server")
	public := flag.String("public", "", "address of the same server for those who see the pictures; that of -service if empty")
	flag.Parse()
	b, err := newBot(*service, *public)
	if err == nil {
		s := &http.Server{Addr: *addr, Handler: b, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, WriteTimeout: 30 * time.Second}
		fmt.Printf("listens on http://%s\n", *addr)
		err = s.ListenAndServe()
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

// bot answers messages.
type bot struct {
	client *saltlock.ClientWithResponses
	public string // address of the server, for pictures
}

func newBot(service, public string) (*bot, error) {
	if public == "" {
		public = service
	}
	client, err := saltlock.New(service, saltlock.Options{Timeout: 5 * time.Second, Retries: 1})
	return &bot{client, strings.TrimSuffix(public, "/")}, err
}

// message is what someone wrote.
type message struct {
	Text string `json:"text"`
}

// reply is what the chat shows.
type reply struct {
	Text     string `json:"text"`
	ImageURL string `json:"image_url,omitempty"`
}

// longest is the most that a message may hold, in bytes.
const longest = 2000

// ServeHTTP takes a message from the chat side and gives the reply to it.
func (b *bot) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodPost {
		w.Header().Set("Allow", http.MethodPost)
		http.Error(w, "post a message", http.StatusMethodNotAllowed)
		return
	}
	var m message
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1<<16)).Decode(&m); err != nil {
		http.Error(w, `post {"text": "…"}`, http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	_ = json.NewEncoder(w).Encode(b.answer(r.Context(), m.Text)) // whoever hung up gets no answer
}
