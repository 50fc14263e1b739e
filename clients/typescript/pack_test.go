package typescript

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"saltlock/clients/internal/live"
)

// A new project takes the packed library, compiles against its types and asks how
// much salt, without a build in this folder and without a network.
func TestPackedLibrary(t *testing.T) {
	live.Need(t, "npm", "apt-get install nodejs npm")
	if _, err := os.Stat("node_modules"); err != nil {
		live.Missing(t, "the compiler", "npm --prefix clients/typescript ci")
	}
	dir := t.TempDir()
	live.Run(t, nil, "npm", "pack", "--silent", "--pack-destination", dir)
	packed, err := filepath.Glob(dir + "/saltlock-*.tgz")
	if err != nil || len(packed) != 1 {
		t.Fatalf("npm pack made %v, %v; want one file", packed, err)
	}
	project := dir + "/project"
	if err := os.Mkdir(project, 0o700); err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string]string{
		"package.json":  `{"name": "tank", "private": true, "type": "module"}`,
		"tsconfig.json": `{"compilerOptions": {"target": "ES2022", "module": "NodeNext", "strict": true, "types": [], "lib": ["ES2022", "DOM", "DOM.Iterable"]}, "files": ["ask.ts"]}`,
		"ask.ts": `import { connect, getSaltMix, type SaltMixAnswer } from 'saltlock';
declare const process: { argv: string[] };
const { data } = await getSaltMix({ client: connect(process.argv[2]!), query: { target: '1.010 SG', volume: '120 gal' }, throwOnError: true });
const mix: SaltMixAnswer = data;
console.log(mix.salt.value.toFixed(1), mix.salt.unit);
`,
	} {
		if err := os.WriteFile(filepath.Join(project, name), []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	compiler, err := filepath.Abs("node_modules/.bin/tsc")
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"npm", "install", "--silent", "--offline", "--no-audit", "--no-fund", packed[0]}, {compiler}} {
		cmd := exec.Command(args[0], args[1:]...)
		cmd.Dir = project
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
	}
	if got := live.Run(t, nil, "node", project+"/ask.js", base); got != "6.1 kg\n" { // 454 L with 13.4 g/kg
		t.Errorf("the packed library answers %q, want 6.1 kg", got)
	}
}

// The library has the version of the contract that it was generated from.
func TestVersion(t *testing.T) {
	contract, err := os.ReadFile("../../openapi.yaml")
	if err != nil {
		t.Fatal(err)
	}
	want := regexp.MustCompile(`(?m)^  version: (.*)$`).FindStringSubmatch(string(contract))[1]
	for _, name := range []string{"package.json", "package-lock.json"} {
		content, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var about struct{ Version string }
		if err := json.Unmarshal(content, &about); err != nil {
			t.Fatal(err)
		}
		if about.Version != strings.TrimSpace(want) {
			t.Errorf("%s says version %s, the contract %s: .ci/generate", name, about.Version, want)
		}
	}
}
