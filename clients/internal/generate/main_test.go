package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// generated writes every client of a contract into a new folder.
func generated(t *testing.T, contract string) string {
	t.Helper()
	dir := t.TempDir()
	for file := range outputs {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, file)), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := run(contract, dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

func content(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What is committed is what the contract of today gives.
func TestFresh(t *testing.T) {
	fresh := generated(t, "../../../openapi.yaml")
	for file := range outputs {
		if content(t, filepath.Join(fresh, file)) != content(t, filepath.Join("../..", file)) {
			t.Errorf("clients/%s is not what openapi.yaml gives: go generate ./clients/internal/generate", file)
		}
	}
}

// Shapes that the contract may come to use: a header, a word of Python, an answer
// without a body, a merge patch, a choice of types.
func TestShapes(t *testing.T) {
	module := content(t, filepath.Join(generated(t, "testdata/shapes.yaml"), "python/saltlock/__init__.py"))
	for _, want := range []string{
		"def patch_log(\n        self,\n        body: Entry,\n        *,\n        id: str,\n        if_match: str,\n        class_: Optional[Literal[\"a\", \"b\"]] = None,\n    ) -> Entry:",
		"def delete_log(\n        self,\n        *,\n        id: str,\n    ) -> None:",
		`"PATCH", "/v1/logs/{id}", ("id", "class",), {"if_match": "If-Match"}, "application/merge-patch+json"`,
		"Amount: TypeAlias = 'Union[float, list[str]]'",
		"class Entry(TypedDict):",
		"    note: NotRequired[dict[str, Any]]",
	} {
		if !strings.Contains(module, want) {
			t.Errorf("the module lacks\n%s", want)
		}
	}
	if strings.Contains(module, "get_probe") {
		t.Error("the module asks for a probe")
	}
}

func TestSnake(t *testing.T) {
	for given, want := range map[string]string{"getSaltMix": "get_salt_mix", "getContractYAML": "get_contract_yaml", "listSpecies": "list_species", "getPHBand": "get_ph_band"} {
		if got := snake(given); got != want {
			t.Errorf("snake(%q) = %q, want %q", given, got, want)
		}
	}
}
