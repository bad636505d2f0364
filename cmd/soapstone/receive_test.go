package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// at runs the program with a home of its own on a given day.
func at(t *testing.T, home, day string, args ...string) (status int, out, err string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(t.Context(), args, shell{strings.NewReader(""), &o, &e, func(k string) string {
		return map[string]string{"HOME": home, "SOAPSTONE_TODAY": day}[k]
	}})
	return status, o.String(), e.String()
}

const bookJob = `
[section.rail]
shape = "rect-tube"
size = "2 x 1 x 14ga"
[[item]]
name = "caster"
qty = 3
[[piece]]
mark = "A"
section = "rail"
length = "9ft"
qty = 4
`

// TestPriceBookByCommands fills a book, plans with it on two days, renews a price, and takes one out.
func TestPriceBookByCommands(t *testing.T) {
	home := t.TempDir()
	job := filepath.Join(home, "rack.toml")
	if err := os.WriteFile(job, []byte(bookJob), 0o644); err != nil {
		t.Fatal(err)
	}
	do := func(want int, args ...string) string {
		t.Helper()
		status, out, errs := at(t, home, "2026-11-25", args...)
		if status != want {
			t.Fatalf("%v: exit %d, %s%s", args, status, out, errs)
		}
		return out + errs
	}
	if out := do(0, "prices"); !strings.Contains(out, "empty") {
		t.Error(out)
	}
	do(0, "prices", "steel", "rect-tube", "2 x 1 x 14ga", "20ft", "33.00", "--supplier", "Harbour Steel", "--date", "2026-11-20")
	do(0, "prices", "goods", "caster", "14", "--pack", "2", "--supplier", "Chandler & Daughters", "--date", "2026-06-01")
	if out := do(0, "plan", job); !strings.Contains(out, "Harbour Steel") || !strings.Contains(out, "USD 66.00  (price of 2026-11-20)") || !strings.Contains(out, "OLD: price of 2026-06-01") {
		t.Error(out)
	}
	if _, out, errs := at(t, home, "2027-03-01", "plan", job); !strings.Contains(out, "OLD: price of 2026-11-20") || !strings.Contains(errs, "101 days old") {
		t.Error(out, errs)
	}
	if out := do(0, "prices", "--old", "--json"); !strings.Contains(out, `"name": "caster"`) || strings.Contains(out, "rect-tube") {
		t.Error(out)
	}
	do(0, "prices", "renew", "2", "15.50")
	if out := do(0, "prices", "--old"); !strings.Contains(out, "no price is old") {
		t.Error(out)
	}
	if out := do(0, "prices"); !strings.Contains(out, "15.50") || !strings.Contains(out, "2026-11-25") {
		t.Error(out)
	}
	do(0, "prices", "remove", "1")
	if out := do(0, "plan", job); strings.Contains(out, "Harbour") {
		t.Error(out)
	}
	for _, wrong := range [][]string{{"prices", "steel", "tube", "2", "20ft", "3"}, {"prices", "steel", "flat", "2 x 1/4", "any", "3"}, {"prices", "steel", "flat", "2 x 1/4", "20ft", "3/oz"},
		{"prices", "goods", "nut", "cheap"}, {"prices", "renew", "x", "3"}, {"prices", "goods", "nut", "3", "--date", "soon"}} {
		do(2, wrong...)
	}
	do(1, "prices", "remove", "9")
	if err := os.WriteFile(filepath.Join(home, ".config", "soapstone", "prices.toml"), []byte("[[goods]]\nname = 3\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if out := do(1, "plan", job); !strings.Contains(out, "prices.toml") {
		t.Errorf("a price that is not understood goes missing unseen: %s", out)
	}
}

func TestReceiveByCommand(t *testing.T) {
	home := t.TempDir()
	job := filepath.Join(home, "rack.toml")
	src := strings.Replace(bookJob, "size = \"2 x 1 x 14ga\"\n", "size = \"2 x 1 x 14ga\"\nsticks = [ {length = \"20ft\", price = 30}, {length = \"24ft\", price = 39} ]\n", 1)
	if err := os.WriteFile(job, []byte(src), 0o644); err != nil {
		t.Fatal(err)
	}
	do := func(want int, args ...string) string {
		t.Helper()
		status, out, errs := at(t, home, "2026-11-25", args...)
		if status != want {
			t.Fatalf("%v: exit %d, %s%s", args, status, out, errs)
		}
		return out + errs
	}
	out := do(0, "receive", job, "rail", "20ft", "1", "--price", "31.50", "--bow", "1in", "--supplier", "Harbour Steel")
	for _, want := range []string{"recorded: 1 sticks of rail", "1 x 240\" (20') at 31.50 (before: 2 x 240\" (20') at 30.00)", "came bowed by 1\"", "A by"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if out = do(0, "receive", job, "rail", "20ft", "0", "--no-more"); !strings.Contains(out, "1 x 288\" (24')") {
		t.Error(out)
	}
	if out = do(0, "log", job); strings.Count(out, "\n") != 2 || !strings.Contains(out, "Harbour Steel") {
		t.Error(out)
	}
	do(2, "receive", job, "post", "20ft", "1")
	do(2, "receive", job, "rail", "20ft", "some")
	do(2, "receive", job, "rail", "20ft", "0")
	do(2, "receive", job, "rail", "20ft", "1", "--price", "much")
	do(3, "receive", filepath.Join(home, "none.toml"), "rail", "20ft", "1")
}
