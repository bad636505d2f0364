package trial

import (
	"os"
	"strings"
	"testing"
)

func TestEveryFault(t *testing.T) {
	entries, every := 12, 1
	if testing.Short() {
		every = 7
	}
	if os.Getenv("SOAK") != "" {
		entries = 40 // a long working day
	}
	table := Run(entries, every)
	var b strings.Builder
	table.Print(&b)
	t.Log("\n" + b.String())
	for _, f := range table.Failures {
		t.Error(f)
	}
	if table.Survived != table.Injected || table.Lost > 0 {
		t.Errorf("%d of %d survived, %d lost", table.Survived, table.Injected, table.Lost)
	}
}
