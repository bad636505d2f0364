package file_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestNoNetwork looks at every package that the program is made of: none may be able to reach
// a network, by way of whatever library.
func TestNoNetwork(t *testing.T) {
	goTool, err := exec.LookPath("go")
	if err != nil {
		t.Skip("no go command here")
	}
	list := func(args ...string) string {
		t.Helper()
		var stderr bytes.Buffer
		cmd := exec.Command(goTool, append([]string{"list"}, args...)...)
		cmd.Stderr = &stderr
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list %s: %v\n%s", strings.Join(args, " "), err, stderr.String())
		}
		return string(out)
	}
	// What each package brings in itself, so that a finding can name the culprit.
	direct := map[string]string{}
	for _, line := range strings.Split(list("-deps", "-f", "{{.ImportPath}} {{join .Imports \" \"}}", "bench.example/soapstone/cmd/soapstone"), "\n") {
		name, imports, _ := strings.Cut(line, " ")
		if name != "" {
			direct[name] = imports
		}
	}
	if len(direct) < 50 {
		t.Fatalf("only %d packages found: the test looks at nothing", len(direct))
	}
	for name := range direct {
		if !network(name) {
			continue
		}
		for by, imports := range direct {
			for _, i := range strings.Fields(imports) {
				if i == name && !network(by) && !onlySpells(t, by, name, list("-f", "{{.Dir}}", by)) {
					t.Errorf("%s imports %s", by, name)
				}
			}
		}
	}
	// The packages of the module that no command uses yet.
	for _, line := range strings.Split(list("-f", "{{.ImportPath}} {{join .Imports \" \"}}", "bench.example/soapstone/..."), "\n") {
		name, imports, _ := strings.Cut(line, " ")
		for _, i := range strings.Fields(imports) {
			if network(i) {
				t.Errorf("%s imports %s", name, i)
			}
		}
	}
}

// lookedAt are libraries that import net and were looked at: what they use of it, none of which
// opens a connection.
var lookedAt = map[string][]string{
	// Flags whose values are addresses, which soapstone has none of.
	"github.com/spf13/pflag": {"IP", "IPMask", "IPNet", "IPv4Mask", "ParseCIDR", "ParseIP"},
}

// onlySpells tells whether a library was looked at and still uses nothing else of the package.
func onlySpells(t *testing.T, library, pkg, dir string) bool {
	allowed := lookedAt[library]
	if allowed == nil || pkg != "net" {
		return false
	}
	files, err := filepath.Glob(filepath.Join(strings.TrimSpace(dir), "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no source of %s: %v", library, err)
	}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := sel.X.(*ast.Ident); ok && x.Name == "net" && !slices.Contains(allowed, sel.Sel.Name) {
					t.Errorf("%s uses net.%s", library, sel.Sel.Name)
				}
			}
			return true
		})
	}
	return true
}

// network tells the packages of the standard library, and near it, that open connections.
// net/netip and net/url only spell addresses.
func network(path string) bool {
	switch path {
	case "net/netip", "net/url":
		return false
	case "net", "crypto/tls", "log/syslog", "expvar", "rpc":
		return true
	}
	return strings.HasPrefix(path, "net/") || strings.HasPrefix(path, "golang.org/x/net/") || strings.HasPrefix(path, "vendor/golang.org/x/net/")
}
