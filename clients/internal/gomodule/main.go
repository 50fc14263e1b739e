// Gomodule packs the Go client as a module of its own, in the layout of a module proxy: a folder
// that GOPROXY can name by a file URL. This repository's own module has no address on the web, so
// go get cannot fetch it; what is packed here it can.
package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

const usage = "usage: gomodule MODULE VERSION CLIENT-FOLDER LICENCE PROXY-FOLDER"

func main() {
	log.SetFlags(0)
	if len(os.Args) != 6 {
		log.Fatal(usage)
	}
	module, version, client, licence, proxy := os.Args[1], "v"+strings.TrimPrefix(os.Args[2], "v"), os.Args[3], os.Args[4], os.Args[5]
	if err := pack(module, version, client, licence, proxy); err != nil {
		log.Fatal(err)
	}
}

// pack writes what a module proxy serves for one version of one module.
func pack(module, version, client, licence, proxy string) error {
	mod, err := goMod(module, client)
	if err != nil {
		return err
	}
	files := map[string][]byte{"go.mod": mod}
	sources, err := filepath.Glob(filepath.Join(client, "*.go"))
	if err != nil {
		return err
	}
	for _, name := range append(sources, filepath.Join(client, "README.md"), licence) {
		if strings.HasSuffix(name, "_test.go") || filepath.Base(name) == "generate.go" {
			continue // they need the rest of the repository
		}
		if files[filepath.Base(name)], err = os.ReadFile(name); err != nil {
			return err
		}
	}
	packed, err := archive(module+"@"+version, files)
	if err != nil {
		return err
	}
	info, err := json.Marshal(map[string]any{"Version": version, "Time": time.Unix(0, 0).UTC()})
	if err != nil {
		return err
	}
	dir := filepath.Join(proxy, filepath.FromSlash(module), "@v")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, content := range map[string][]byte{"list": []byte(version + "\n"), version + ".info": info, version + ".mod": mod, version + ".zip": packed} {
		if err := os.WriteFile(filepath.Join(dir, name), content, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// goMod requires the modules that the client needs, at the versions this repository tests it with.
func goMod(module, client string) ([]byte, error) {
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", ".")
	list.Dir, list.Stderr = client, os.Stderr
	out, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("go list %s: %w", client, err)
	}
	needed := strings.Split(strings.TrimSpace(string(out)), "\n")
	slices.Sort(needed)
	var b bytes.Buffer
	fmt.Fprintf(&b, "module %s\n\ngo 1.26\n\nrequire (\n", module)
	for _, m := range slices.Compact(needed) {
		if m != "" {
			fmt.Fprintf(&b, "\t%s\n", m)
		}
	}
	b.WriteString(")\n")
	return b.Bytes(), nil
}

// archive zips files under a folder, the same bytes each time.
func archive(folder string, files map[string][]byte) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	names := make([]string, 0, len(files))
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		w, err := z.CreateHeader(&zip.FileHeader{Name: folder + "/" + name, Method: zip.Deflate})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(files[name]); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
