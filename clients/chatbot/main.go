// Chatbot answers questions in a chat through the Go client. It is an example to start from.
//
// It takes {"text": "…"} by POST and answers {"text": "…", "image_url": "…"}; add the few lines
// that your chat needs around that.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"log"
	"net/http"
	"os"
	"time"

	saltlock "saltlock/clients/go"
)

func main() {
	addr := flag.String("addr", "127.0.0.1:8090", "address to listen on")
	service := flag.String("service", "http://127.0.0.1:8080", "where Saltlock answers")
	public := flag.String("public", "", "where the chat's users reach Saltlock, for pictures; the same if empty")
	flag.Parse()
	b, err := newBot(*service, *public)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
	server := &http.Server{Addr: *addr, Handler: b, ReadHeaderTimeout: 5 * time.Second}
	log.Fatal(server.ListenAndServe())
}

// bot answers messages.
type bot struct {
	service *saltlock.ClientWithResponses
	public  string // base of the URLs of pictures
}

func newBot(service, public string) (*bot, error) {
	// A chat waits about three seconds.
	c, err := saltlock.New(service, saltlock.Options{Timeout: 2 * time.Second, Retries: 1, LongestWait: time.Second})
	if public == "" {
		public = service
	}
	return &bot{c, public}, err
}

const (
	longestBody = 64 << 10 // in bytes, the text and what a chat puts around it
	longestText = 1000     // in characters; nobody types more for a question
)

func (b *bot) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	var message struct {
		Text string `json:"text"`
	}
	if r.Method != http.MethodPost {
		w.Header().Set("Allow", http.MethodPost)
		http.Error(w, "send a message by POST", http.StatusMethodNotAllowed)
		return
	}
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, longestBody)).Decode(&message); err != nil {
		http.Error(w, `send {"text": "…"}`, http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	if err := json.NewEncoder(w).Encode(b.answer(r.Context(), message.Text)); err != nil {
		log.Print(err)
	}
}
