// Package embed holds what clubs put on their own sites: custom elements that ask the service, and
// pages that show each with the code to paste.
package embed

import (
	"bytes"
	"compress/gzip"
	"crypto/sha512"
	"embed"
	"encoding/base64"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

//go:generate go run ./bundle

//go:embed dist pages
var files embed.FS

// File is one thing to serve.
type File struct {
	Body, Gzip []byte
	Integrity  string // for the attribute integrity: sha384 of Body
}

// Set is everything that is served.
type Set struct {
	Version string          // the current one; earlier ones stay in Files
	Files   map[string]File // by the path under /embed/; without a version, the current one
	Page    string          // template of the page of an element
	Frame   string          // template of the page for an iframe
	Index   string          // template of the page that lists the elements
}

// Load reads the modules of every version and the pages.
func Load() (*Set, error) {
	s := &Set{Files: map[string]File{}}
	current, err := files.ReadFile("dist/current")
	if err != nil {
		return nil, err
	}
	s.Version = strings.TrimSpace(string(current))
	modules, err := fs.Glob(files, "dist/*/*.js")
	if err != nil {
		return nil, err
	}
	for _, name := range append(modules, "pages/pages.css") {
		f, err := load(name)
		if err != nil {
			return nil, err
		}
		version := path.Base(path.Dir(name))
		if version != "pages" {
			s.Files[version+"/"+path.Base(name)] = f
		}
		if version == s.Version || version == "pages" {
			s.Files[path.Base(name)] = f
		}
	}
	for name, text := range map[string]*string{"element.html": &s.Page, "frame.html": &s.Frame, "index.html": &s.Index} {
		body, err := files.ReadFile("pages/" + name)
		if err != nil {
			return nil, err
		}
		*text = string(body)
	}
	return s, nil
}

func load(name string) (File, error) {
	body, err := files.ReadFile(name)
	if err != nil {
		return File{}, err
	}
	var short bytes.Buffer
	z, err := gzip.NewWriterLevel(&short, gzip.BestCompression)
	if err != nil {
		return File{}, err
	}
	if _, err := z.Write(body); err != nil {
		return File{}, fmt.Errorf("compress %s: %w", name, err)
	}
	if err := z.Close(); err != nil {
		return File{}, fmt.Errorf("compress %s: %w", name, err)
	}
	sum := sha512.Sum384(body)
	return File{body, short.Bytes(), "sha384-" + base64.StdEncoding.EncodeToString(sum[:])}, nil
}
