package text

import (
	"math"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func fields(t *testing.T, src string) (*Reading, *Fields) {
	t.Helper()
	d, ps := Parse("j", []byte(src))
	if d == nil {
		t.Fatal(ps)
	}
	r := NewReading("j")
	return r, r.Top(d)
}

// TestGetters gives each getter every kind of value and reads what it says.
func TestGetters(t *testing.T) {
	length := func(f *Fields) any {
		var l measure.Length
		f.Length("k", &l, Positive)
		return l
	}
	number := func(f *Fields) any {
		var x float64
		f.Number("k", &x, 0)
		return x
	}
	count := func(f *Fields) any {
		n := -1
		f.Count("k", &n, 1, 9, 0)
		return n
	}
	truth := func(f *Fields) any {
		var b bool
		f.Bool("k", &b, 0)
		return b
	}
	words := func(f *Fields) any {
		s := "none"
		f.Text("k", &s, 0)
		return s
	}
	choice := func(f *Fields) any {
		s := "none"
		f.Choice("k", &s, 0, "edge", "flat")
		return s
	}
	share := func(f *Fields) any {
		var x float64
		f.Share("k", &x, 0)
		return x
	}
	money := func(f *Fields) any {
		var m measure.Money
		f.Money("k", &m, 0)
		return m
	}
	name := func(f *Fields) any {
		s := ""
		f.Name("k", &s, ".@", 0)
		return s
	}
	lengths := func(f *Fields) any { return f.Lengths("k", 2, 3, "[1, 2]", 0) }
	for _, c := range []struct {
		get  func(*Fields) any
		src  string
		want any
		says string
	}{
		{length, `96`, 96 * measure.Inch, ""},
		{length, `"96"`, 96 * measure.Inch, ""},
		{length, `20.784609691`, measure.Length(527_929_086), ""},
		{length, `1_000.5`, 1000*measure.Inch + measure.Inch/2, ""},
		{length, `0x10`, 16 * measure.Inch, ""},
		{length, `1e1`, 10 * measure.Inch, ""},
		{length, `+2`, 2 * measure.Inch, ""},
		{length, `nan`, measure.Length(0), "nan is no length"},
		{length, `-inf`, measure.Length(0), "-inf is no length"},
		{length, `1e300`, measure.Length(0), "is no length"},
		{length, `true`, measure.Length(0), "this is true or false; write 96in"},
		{length, `2026-01-01`, measure.Length(0), "this is a date or time; write"},
		{length, `[1]`, measure.Length(0), "this is a list; write"},
		{length, `{a = 1}`, measure.Length(0), "this is a table; write"},
		{length, `0`, measure.Length(0), "0 cannot be: it must be more than zero"},
		{number, `2.5`, 2.5, ""},
		{number, `"2.5"`, 2.5, ""},
		{number, `nan`, 0.0, "nan is no number"},
		{number, `inf`, 0.0, "inf is no number"},
		{count, `3`, 3, ""},
		{count, `"3"`, 3, ""},
		{count, `3.0`, -1, "3.0 is no whole number; write one from 1 to 9"},
		{count, `0`, -1, "0 cannot be; write a whole number from 1 to 9"},
		{count, `9223372036854775807`, -1, "cannot be; write a whole number from 1 to 9"},
		{count, `true`, -1, "true is no whole number"},
		{truth, `true`, true, ""},
		{truth, `"true"`, false, "neither true nor false (without quotation marks)"},
		{words, `"x"`, "x", ""},
		{words, `5`, "none", `a text in quotation marks belongs here: "5"`},
		{words, `"` + strings.Repeat("x", MaxText+1) + `"`, "none", "longer than 2000 characters"},
		{choice, `"flat"`, "flat", ""},
		{choice, `"flta"`, "none", `"flta" is not among edge or flat; did you mean flat?`},
		{choice, `"Flat"`, "none", `did you mean flat?`},
		{share, `"30%"`, 0.3, ""},
		{share, `0.3`, 0.3, ""},
		{share, `30`, 0.0, "30 is more than all of it; write a share such as 30% or 0.3"},
		{share, `-0.1`, 0.0, "must be zero or more"},
		{money, `34.50`, 3450 * measure.Cent, ""},
		{money, `-1`, measure.Money(0), "must be zero or more"},
		{name, `"lower"`, "lower", ""},
		{name, `"a.b"`, "", "a name holds no '.'"},
		{name, `" "`, "", "at least one character"},
		{name, `" a"`, "", `write "a"`},
		{name, `"` + strings.Repeat("n", 81) + `"`, "", "at most 80 characters"},
		{lengths, `[1, "2mm"]`, []measure.Length{measure.Inch, 2 * measure.Millimetre}, ""},
		{lengths, `[1]`, []measure.Length(nil), "the list holds 1, and 2 to 3 belong here: [1, 2]"},
		{lengths, `[1, "x"]`, []measure.Length(nil), `"x" is no length`},
		{lengths, `1`, []measure.Length(nil), "this is a whole number; a list belongs here: [1, 2]"},
	} {
		r, f := fields(t, "k = "+c.src)
		got := c.get(f)
		f.Done()
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s:\n%s", c.src, diff)
		}
		ps := r.Problems()
		switch {
		case c.says == "" && len(ps) > 0:
			t.Errorf("%s: %v", c.src, ps[0])
		case c.says != "" && (len(ps) != 1 || !strings.Contains(ps[0].Message, c.says) || ps[0].Line != 1 || ps[0].Column < 5 || ps[0].Key != "k"):
			t.Errorf("%s: %+v, want %q", c.src, ps, c.says)
		}
	}
}

func TestTablesAndUnknownKeys(t *testing.T) {
	r, f := fields(t, "[[a]]\nx = 1\nz = 2\n[[a]]\nXx = 1\n[b]\n[[c]]\n[e.f]\n[[e.g]]\nh = 1\n")
	var got []string
	for _, a := range f.Tables("a") {
		var n int
		a.Count("x", &n, 0, 9, Need)
		a.Done()
	}
	if _, given := f.Table("missing"); given {
		t.Error("a table that is not there")
	}
	if b := f.Tables("b"); b != nil {
		t.Error("b is one table")
	}
	f.Table("c")
	e, _ := f.Table("e")
	e.Table("f")
	f.Later("later")
	e.Done()
	f.Done()
	for _, p := range r.Problems() {
		got = append(got, p.String())
	}
	want := []string{
		"j:3: a[1].z: there is no key z; here may stand x",
		"j:5: a[2].Xx: there is no key Xx; did you mean x?",
		"j:6: b: this table may repeat: write [[b]] with double brackets",
		"j:7: c: this table stands once: write [c] with single brackets",
		"j:9: e.g: there is no table g; here may stand f",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestTooManyProblemsAreCounted(t *testing.T) {
	r, f := fields(t, strings.Repeat("x", 1)+" = 1\n"+strings.Join(func() (l []string) {
		for i := 0; i < 200; i++ {
			l = append(l, "k"+itoa(i)+" = 1")
		}
		return l
	}(), "\n"))
	f.Done()
	ps := r.Problems()
	if len(ps) != MaxProblems+1 || ps[MaxProblems].Message != "and 151 more like these" {
		t.Errorf("%d problems, last %v", len(ps), ps[len(ps)-1])
	}
}

// TestQuoteReadsBack: whatever text Quote spells, TOML reads the same text.
func TestQuoteReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := strings.ToValidUTF8(rapid.String().Draw(t, "text"), "")
		key := strings.ToValidUTF8(rapid.StringN(0, MaxKeyLength, -1).Draw(t, "key"), "")
		d, ps := Parse("", []byte(SpellKey(key)+" = "+Quote(s)))
		if d == nil {
			t.Fatal(ps)
		}
		if got := d.Find(Path{{Key: key}}); got == nil || got.Text != s {
			t.Fatalf("%q = %q reads %v", key, s, got)
		}
		p, err := ParsePath(At("a", 2, key).Child("z").String())
		if err != nil || p[1].Key != key || p[0].N != 2 {
			t.Fatalf("path with %q: %v %v", key, p, err)
		}
	})
}

func TestNumbersAreNeverNaN(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := rapid.StringMatching(`[-+]?([0-9]{1,4}(\.[0-9]{1,3})?([eE][-+]?[0-9]{1,4})?|inf|nan)`).Draw(t, "number")
		d, _ := Parse("", []byte("k = "+src))
		if d == nil {
			t.Skip()
		}
		var x float64
		f := NewReading().Top(d)
		if ok := f.Number("k", &x, 0); math.IsNaN(x) || math.IsInf(x, 0) || !ok && x != 0 {
			t.Fatal(src, x, ok)
		}
	})
}
