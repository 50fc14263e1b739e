package bots

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"github.com/modelcontextprotocol/go-sdk/jsonrpc"
)

// answered turns away foreign host names, and rewrites what the library refuses in plain text or
// in its own words as JSON-RPC.
func answered(publicURL string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		message, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxMessage))
		switch tooLong := (*http.MaxBytesError)(nil); {
		case errors.As(err, &tooLong):
			refuse(w, http.StatusRequestEntityTooLarge, nil, jsonrpc.CodeInvalidRequest, "the message is too long: 64 kB is allowed")
			return
		case err != nil: // the client has left
			return
		case rebound(r, publicURL):
			refuse(w, http.StatusForbidden, message, jsonrpc.CodeInvalidRequest, "the Host is no name of this service: ask by its own, or start it with --public-url")
			return
		}
		r.Body = io.NopCloser(bytes.NewReader(message))
		answer := &read{header: w.Header(), status: http.StatusOK}
		next.ServeHTTP(answer, r)
		if code, why := refusal(answer, message); why != "" {
			if code == jsonrpc.CodeMethodNotFound {
				answer.status = http.StatusOK // as JSON-RPC does
			}
			refuse(w, answer.status, message, code, why)
			return
		}
		w.WriteHeader(answer.status)
		_, _ = w.Write(answer.Bytes())
	})
}

// rebound reports whether a page of a foreign site may be asking, under a name that was made to
// lead to this machine (DNS rebinding): browsers take it for that site's own.
func rebound(r *http.Request, publicURL string) bool {
	local, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	if !ok {
		return false
	}
	at, err := netip.ParseAddrPort(local.String())
	if err != nil || !at.Addr().IsLoopback() {
		return false
	}
	asked := (&url.URL{Host: r.Host}).Hostname()
	if public, err := url.Parse(publicURL); err == nil && public.Hostname() != "" && strings.EqualFold(asked, public.Hostname()) {
		return false
	}
	ip, err := netip.ParseAddr(asked)
	return !strings.EqualFold(asked, "localhost") && (err != nil || !ip.IsLoopback())
}

// refusal is the code and the words for what the library refused; no words if it did not refuse.
func refusal(answer *read, message []byte) (code int64, why string) {
	text := strings.TrimSpace(answer.String())
	switch {
	case answer.status < http.StatusBadRequest:
		var told struct{ Error *jsonrpc.Error }
		if json.Unmarshal(answer.Bytes(), &told) == nil && told.Error != nil && strings.Contains(told.Error.Message, "unmarshal") {
			return jsonrpc.CodeInvalidParams, "the params do not fit the method"
		}
		return 0, ""
	case !strings.HasPrefix(answer.header.Get("Content-Type"), "text/plain"):
		return 0, ""
	case strings.HasPrefix(text, "JSON RPC not handled"):
		return jsonrpc.CodeMethodNotFound, "this server has no such method"
	case answer.status == http.StatusBadRequest && !json.Valid(message):
		return jsonrpc.CodeParseError, "the message is no JSON"
	case strings.HasPrefix(text, "malformed payload"):
		return jsonrpc.CodeInvalidRequest, "the message is no request of JSON-RPC 2.0"
	}
	return jsonrpc.CodeInvalidRequest, text
}

// refuse answers with a JSON-RPC error, to the id of the message if it has one.
func refuse(w http.ResponseWriter, status int, message []byte, code int64, why string) {
	var asked struct {
		ID json.RawMessage `json:"id"`
	}
	if json.Unmarshal(message, &asked) != nil || !bytes.ContainsAny(asked.ID[:min(len(asked.ID), 1)], `"-0123456789`) {
		asked.ID = json.RawMessage("null")
	}
	body, err := json.Marshal(map[string]any{"jsonrpc": "2.0", "id": asked.ID, "error": map[string]any{"code": code, "message": why}})
	if err != nil { // impossible: it was just read as JSON
		return
	}
	w.Header().Del("Content-Length")
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_, _ = w.Write(body)
}
