// Command bundle makes each element one module without imports, so that one integrity value covers
// everything a page runs, and writes them to dist/<version>/. The version is that of package.json
// with a digest of the modules, so what a URL serves never changes.
package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// entries are the modules that a page can load.
var entries = []string{"all.js", "converter.js", "frame.js", "height.js", "salt.js", "species.js", "transfer.js"}

func main() {
	if err := run("."); err != nil {
		fmt.Fprintln(os.Stderr, "bundle:", err)
		os.Exit(1)
	}
}

// run bundles the elements of the folder and replaces what it holds of the same version; folders
// of other versions stay, and stay served.
func run(folder string) error {
	number, err := version(folder)
	if err != nil {
		return err
	}
	modules, err := bundle(filepath.Join(folder, "src"))
	if err != nil {
		return err
	}
	digest := sha256.New()
	for _, name := range entries {
		digest.Write(modules[name])
	}
	old, err := filepath.Glob(filepath.Join(folder, "dist", number+"-*"))
	if err != nil {
		return err
	}
	for _, name := range old {
		if err := os.RemoveAll(name); err != nil {
			return err
		}
	}
	to := filepath.Join(folder, "dist", number+"-"+hex.EncodeToString(digest.Sum(nil)[:4]))
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	for name, text := range modules {
		if err := os.WriteFile(filepath.Join(to, name), text, 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(folder, "dist", "current"), []byte(filepath.Base(to)+"\n"), 0o644)
}

// version reads the version of package.json.
func version(folder string) (string, error) {
	text, err := os.ReadFile(filepath.Join(folder, "package.json"))
	if err != nil {
		return "", err
	}
	var p struct {
		Version string `json:"version"`
	}
	if err := json.Unmarshal(text, &p); err != nil {
		return "", err
	}
	if p.Version == "" {
		return "", errors.New("package.json names no version")
	}
	return p.Version, nil
}

// bundle joins each entry with its imports and minifies it.
func bundle(src string) (map[string][]byte, error) {
	modules := map[string][]byte{}
	for _, name := range entries {
		result := api.Build(api.BuildOptions{
			EntryPoints:       []string{filepath.Join(src, name)},
			Bundle:            true,
			Format:            api.FormatESModule,
			Target:            api.ES2022,
			Charset:           api.CharsetUTF8,
			MinifyWhitespace:  true,
			MinifyIdentifiers: true,
			MinifySyntax:      true,
			LegalComments:     api.LegalCommentsNone,
			MangleProps:       `^(heading|verb|question|say|german|comma|choice|english|rows|plain|output|form|first|field|show|base|us|degrees|amount|device|folded)$`,
			Plugins:           []api.Plugin{{Name: "style", Setup: shortStyle}},
			Banner:            map[string]string{"js": "/* Saltlock, MIT licence */"},
		})
		for _, m := range result.Errors {
			return nil, fmt.Errorf("%s: %s", name, m.Text)
		}
		modules[name] = result.OutputFiles[0].Contents
	}
	return modules, nil
}

// shortStyle lets a module import a style sheet as minified text.
func shortStyle(build api.PluginBuild) {
	build.OnLoad(api.OnLoadOptions{Filter: `\.css$`}, func(args api.OnLoadArgs) (api.OnLoadResult, error) {
		text, err := os.ReadFile(args.Path)
		if err != nil {
			return api.OnLoadResult{}, err
		}
		short := api.Transform(string(text), api.TransformOptions{Loader: api.LoaderCSS, Charset: api.CharsetUTF8, MinifyWhitespace: true, MinifySyntax: true, Target: api.ES2022})
		if len(short.Errors) > 0 {
			return api.OnLoadResult{}, errors.New(short.Errors[0].Text)
		}
		css := strings.TrimSpace(string(short.Code))
		return api.OnLoadResult{Contents: &css, Loader: api.LoaderText}, nil
	})
}
