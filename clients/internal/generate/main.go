// Generate writes the clients that no existing generator makes: the Python module, the functions
// for spreadsheets and the page of their formulas.
package main

import (
	"bytes"
	"embed"
	"fmt"
	"log"
	"os"
	"text/template"
)

//go:generate go run . ../../../openapi.yaml ../..

//go:embed *.tmpl
var templates embed.FS

// outputs are the files under clients/ and the template of each.
var outputs = map[string]string{
	"python/saltlock/__init__.py": "python.tmpl",
	"python/saltlock/aio.py":      "asyncio.tmpl",
	"sheets/Saltlock.js":          "sheets.tmpl",
	"sheets/FORMULAS.md":          "formulas.tmpl",
}

func main() {
	log.SetFlags(0)
	if len(os.Args) != 3 {
		log.Fatal("usage: generate openapi.yaml folder-of-clients")
	}
	if err := run(os.Args[1], os.Args[2]); err != nil {
		log.Fatal(err)
	}
}

func run(contract, clients string) error {
	c, err := read(contract)
	if err != nil {
		return err
	}
	t, err := template.New("").Delims("<%", "%>").Funcs(functions).ParseFS(templates, "*.tmpl")
	if err != nil {
		return err
	}
	for file, name := range outputs {
		var out bytes.Buffer
		if err := t.ExecuteTemplate(&out, name, c); err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		if err := os.WriteFile(clients+"/"+file, out.Bytes(), 0o644); err != nil {
			return err
		}
	}
	sheets, err := books(c)
	if err != nil {
		return err
	}
	for file, body := range sheets {
		if err := os.WriteFile(clients+"/"+file, body, 0o644); err != nil {
			return err
		}
	}
	return nil
}
