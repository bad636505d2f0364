package job

import (
	"os"
	"strings"
	"testing"
)

// TestEveryKeyHasAMeaning asks the reader for every key it understands, and wants a line for each; and no line for a key
// that is not there.
func TestEveryKeyHasAMeaning(t *testing.T) {
	example, err := os.ReadFile("../../stock/example/kayak-rack.toml")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, a := range (Reader{}).Reference(File{Name: "example", Data: example}) {
		if a.Kind == "table" || a.Kind == "tables" || a.Kind == "table or tables" {
			continue
		}
		id := strings.TrimPrefix(a.Table+"."+a.Key, ".")
		known[id] = true
		if Meaning(a.Table, a.Key) == "" {
			t.Errorf("the reader takes %s; meaning.go does not say what it is for", id)
		}
	}
	for id := range meanings() {
		if table, _, ok := strings.Cut(id, "."); ok && !known[id] && !optional[id] {
			t.Errorf("meaning.go explains %s, which the reader of [%s] does not take", id, table)
		}
	}
}

// optional are keys that the reader asks for only where another key stands beside them, so that the probe misses them.
var optional = map[string]bool{"combination.cases": true, "support.spring": true}
