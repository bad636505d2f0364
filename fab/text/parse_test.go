package text

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// plainValue turns our tree into what the TOML library would decode, with
// times as their raw text.
func plainValue(v *Value) any {
	switch v.Kind {
	case String:
		return v.Text
	case Integer:
		n, _ := strconv.ParseInt(v.Text, 0, 64)
		return n
	case Float:
		f, _ := strconv.ParseFloat(strings.TrimPrefix(strings.ReplaceAll(v.Text, "_", ""), "+"), 64)
		if v.Text == "-nan" || v.Text == "+nan" {
			f = math.NaN()
		}
		return f
	case Bool:
		return v.Text == "true"
	case Time:
		return "time"
	case Array:
		a := []any{}
		for _, i := range v.Items {
			a = append(a, plainValue(i))
		}
		return a
	case TableKind:
		return plainTable(v.Table)
	}
	panic(v.Kind)
}

func plainTable(t *Table) map[string]any {
	m := map[string]any{}
	for _, e := range t.Entries {
		m[e.Key] = plainValue(e.Value)
	}
	return m
}

// plainTheirs makes the library's decoded values comparable.
func plainTheirs(x any) any {
	switch x := x.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, v := range x {
			m[k] = plainTheirs(v)
		}
		return m
	case []map[string]any:
		a := []any{}
		for _, v := range x {
			a = append(a, plainTheirs(v))
		}
		return a
	case []any:
		a := []any{}
		for _, v := range x {
			a = append(a, plainTheirs(v))
		}
		return a
	case time.Time:
		return "time"
	}
	return x
}

// agree compares scanner and judge on one text: both refuse it, or both read
// the same values from it.
func agree(t *testing.T, src []byte) {
	t.Helper()
	d, ps := Parse("t.toml", src)
	theirs, err := judge(src)
	for _, p := range ps {
		if p.Code == CodeTooMuch {
			return
		}
		if p.Code == CodeOurs {
			t.Fatalf("scanner refuses valid TOML %q: %v", src, p)
		}
	}
	if d == nil {
		if ps[0].Code == CodeDuplicate {
			return // the library lets some double definitions pass; see TestDoubleDefinitions
		}
		if err == nil && !strings.HasPrefix(string(src), "\xff\xfe") && !strings.HasPrefix(string(src), "\xfe\xff") {
			t.Fatalf("Parse refuses what the judge takes: %q: %v", src, ps)
		}
		return
	}
	if err != nil {
		t.Fatalf("Parse takes what the judge refuses: %q: %v", src, err)
	}
	ours, want := any(plainTable(d.Root)), plainTheirs(theirs)
	if !reflect.DeepEqual(ours, want) { // NaN is the one difference that DeepEqual cannot settle
		if diff := cmp.Diff(want, ours, cmp.Comparer(func(a, b float64) bool {
			return a == b || math.IsNaN(a) && math.IsNaN(b)
		})); diff != "" {
			t.Fatalf("%q read differently (-judge +ours):\n%s", src, diff)
		}
	}
	checkPlaces(t, d)
}

// checkPlaces proves that every position is right: reading a value's own
// spelling again gives the same value, and spans nest in order.
func checkPlaces(t *testing.T, d *Doc) {
	t.Helper()
	last := 0
	for _, st := range d.stmts {
		if st.start < last || st.end < st.textEnd || st.textEnd < st.key || st.key < st.start {
			t.Fatalf("statement out of order: %+v in %q", st, d.src)
		}
		last = st.end
		if st.kind != stmtKey {
			continue
		}
		again, ps := Parse("again", append([]byte("x = "), st.entry.Value.Raw()...))
		if again == nil {
			t.Fatalf("value %q does not read by itself: %v", st.entry.Value.Raw(), ps)
		}
		a, b := fmt.Sprint(plainValue(st.entry.Value)), fmt.Sprint(plainValue(again.Root.Get("x").Value))
		if a != b {
			t.Fatalf("value %q reads as %s by itself, %s in place", st.entry.Value.Raw(), b, a)
		}
		if d.src[st.eq] != '=' {
			t.Fatalf("no = at %d of %q", st.eq, d.src)
		}
		if d.Find(st.path) == nil {
			t.Fatalf("path %v finds nothing in %q", st.path, d.src)
		}
	}
}

// corpus is a broad set of TOML texts, good and bad: each line of the
// testdata file between markers is one.
func corpus(t testing.TB) []string {
	t.Helper()
	data, err := os.ReadFile("testdata/corpus.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, c := range strings.Split(string(data), "\n-----\n") {
		out = append(out, c, strings.ReplaceAll(c, "\n", "\r\n"), "\ufeff"+c)
	}
	return out
}

func TestScannerAgreesWithJudge(t *testing.T) {
	for _, c := range corpus(t) {
		agree(t, []byte(c))
		for i := range c { // every prefix: texts broken at each place
			agree(t, []byte(c[:i]))
		}
	}
}

// TestScannerOnConformanceSuite runs the conformance files that come with the
// TOML library, where its source is at hand.
func TestScannerOnConformanceSuite(t *testing.T) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/BurntSushi/toml").Output()
	dir := filepath.Join(strings.TrimSpace(string(out)), "internal", "toml-test", "tests")
	if _, e := os.Stat(dir); err != nil || e != nil {
		t.Skip("the library's test files are not at hand")
	}
	n := 0
	var lax []string
	err = filepath.WalkDir(dir, func(p string, e os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(p, ".toml") {
			return err
		}
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		n++
		agree(t, data)
		d, ps := Parse(p, data)
		valid := strings.Contains(p, "/valid/")
		if deep := len(ps) > 0 && ps[0].Code == CodeTooMuch; valid && d == nil && !deep {
			t.Errorf("%s is valid, but: %v", p, ps[0])
		} else if !valid && d != nil {
			lax = append(lax, strings.TrimPrefix(p, dir))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 300 {
		t.Fatalf("only %d conformance files found in %s", n, dir)
	}
	t.Logf("%d conformance files; %d invalid ones taken: %q", n, len(lax), lax)
}

func FuzzParse(f *testing.F) {
	for _, c := range corpus(f) {
		f.Add([]byte(c))
	}
	f.Fuzz(func(t *testing.T, src []byte) { agree(t, src) })
}
