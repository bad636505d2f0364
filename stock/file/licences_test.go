package file_test

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// TestLicencesAreListed looks up every module that the program and its tests are made of in the list of DEVELOPERS.md.
func TestLicencesAreListed(t *testing.T) {
	goTool, err := exec.LookPath("go")
	if err != nil {
		t.Skip("no go command here")
	}
	list, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	modules := func(args ...string) map[string]bool {
		out, err := exec.Command(goTool, append([]string{"list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}"}, args...)...).Output()
		if err != nil {
			t.Fatal(err)
		}
		m := map[string]bool{}
		for _, name := range strings.Fields(string(out)) {
			m[name] = true
		}
		return m
	}
	linked := modules("bench.example/soapstone/cmd/soapstone")
	all := modules("-test", "bench.example/soapstone/...")
	if len(linked) < 10 || len(all) <= len(linked) {
		t.Fatalf("%d modules linked, %d in all: the test looks at nothing", len(linked), len(all))
	}
	for name := range all {
		use := "tests"
		if linked[name] {
			use = "program"
		}
		row := "| `" + name + "` | " + use + " | "
		if !strings.Contains(string(list), row) {
			t.Errorf("DEVELOPERS.md has no row %q with the licence behind it", row)
		}
	}
}
