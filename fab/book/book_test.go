package book_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/table"
)

const sample = `# prices by the phone, mostly
currency = "USD"

[[steel]]
shape    = "rect-tube"
size     = "2 x 1 x 14ga"
length   = "20ft"
price    = 30.50          # as quoted
supplier = "Harbour Steel"
date     = 2026-06-01

[[steel]]
shape    = "rect-tube"
size     = "2 x 1 x 14ga"
length   = "20ft"
price    = 33.00
supplier = "Harbour Steel"
date     = 2026-11-02

[[steel]]
shape    = "rect-tube"
size     = "2 x 1 x 14ga"
length   = "20ft"
price    = 28.00
supplier = "River Yard"
date     = "2026-11-02"
least    = 10

[[steel]]
shape    = "rect-tube"
size     = "2 x 1 x 14ga"
price_ft = 1.70
supplier = "River Yard"
date     = 2026-10-20

[[goods]]
name     = "caster"
kind     = "part"
price    = 14
pack     = 2
date     = 2026-01-15
`

func read(t testing.TB, src string) *book.Book {
	t.Helper()
	b, problems := book.Read("prices.toml", []byte(src), table.Steel())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

func tube(t testing.TB) steel.Section {
	t.Helper()
	s, err := steel.New(steel.Spec{Shape: steel.RectTube, Size: "2 x 1 x 14ga", Unit: measure.In}, table.Steel())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestNewestCountsAndLeastComesLast(t *testing.T) {
	b := read(t, sample)
	qs := b.Stick(tube(t), 20*measure.Foot, "")
	var got []string
	for _, q := range qs {
		got = append(got, fmt.Sprintf("%s %s %s %d", q.Supplier, q.Each, q.Date, q.Least))
	}
	want := []string{"Harbour Steel 33.00 2026-11-02 1", "River Yard 34.00 2026-10-20 1", "River Yard 28.00 2026-11-02 10"}
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("prices of 20 ft:\n got %q\nwant %q", got, want)
	}
	if qs := b.Stick(tube(t), 24*measure.Foot, ""); len(qs) != 1 || qs[0].Each != 4080*measure.Cent {
		t.Errorf("24 ft by the foot: %+v, want 24 x 1.70 = 40.80", qs)
	}
	if qs := b.Stick(tube(t), 20*measure.Foot, "River Yard"); len(qs) != 2 || qs[0].Least != 1 {
		t.Errorf("of one supplier: %+v", qs)
	}
	if l := b.Lengths(tube(t), ""); len(l) != 1 || l[0] != 20*measure.Foot {
		t.Errorf("lengths %v", l)
	}
	g := b.Find(" Caster ")
	if len(g) != 1 {
		t.Fatalf("casters: %+v", g)
	}
	if packs, cost := g[0].For(5); packs != 3 || cost != 42*measure.Whole {
		t.Errorf("5 casters in packs of 2: %d packs, %s", packs, cost)
	}
}

func TestByWeight(t *testing.T) {
	b := read(t, "[[steel]]\nshape = \"square-bar\"\nsize = \"1\"\nprice_cwt = 50\ndate = 2026-01-01\n")
	s := b.Steel[0].Section
	// 1 x 1 x 240 in of steel at 0.2836 lb/in3 (7850 kg/m3): 68.06 lb, at 50 a hundredweight 34.03.
	if got := b.Steel[0].Each(20 * measure.Foot); got != 3403*measure.Cent {
		t.Errorf("20 ft of %s at 50 a cwt: %s, want 34.03", s.Size, got)
	}
}

func TestOld(t *testing.T) {
	b := read(t, sample)
	day := func(s string) book.Day {
		d, err := book.ParseDay(s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	at := day("2026-06-01")
	for _, c := range []struct {
		today string
		old   bool
	}{{"2026-06-01", false}, {"2026-08-30", false}, {"2026-08-31", true}, {"2026-05-01", false}} { // 90 days after 1 June is 30 August
		if got := b.Old(at, day(c.today)); got != c.old {
			t.Errorf("a price of %s on %s: old is %v", at, c.today, got)
		}
	}
	if b.Old(0, at) || b.Old(at, 0) {
		t.Error("a price or a today without a day is called old")
	}
	var none *book.Book
	if none.Days() != book.UsualOldAfter || none.Old(at, day("2026-08-30")) || !none.Old(at, day("2026-09-30")) {
		t.Error("without a book the usual age does not hold")
	}
}

// Day numbers are those of the proleptic Gregorian calendar: 2026-11-25 is 20,782 days after 1970-01-01 (56 years of 365
// days, 14 leap days, and 328 days of 2026: 20440 + 14 + 328).
func TestDay(t *testing.T) {
	d, err := book.ParseDay("2026-11-25")
	if err != nil || d != 20782 || d.String() != "2026-11-25" {
		t.Errorf("%v %v", int(d), err)
	}
	zone := time.FixedZone("east", 13*3600)
	if got := book.DayOf(time.Date(2026, 11, 25, 1, 0, 0, 0, zone)); got != d {
		t.Errorf("one in the morning in the east is %s", got)
	}
	for _, bad := range []string{"", "2026-13-01", "2026-02-30", "26-01-01", "1970-01-01", "1969-12-31", "2200-01-01", "11/25/2026"} {
		if d, err := book.ParseDay(bad); err == nil {
			t.Errorf("%q read as %s", bad, d)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := book.Day(rapid.IntRange(366, 80000).Draw(t, "day"))
		if back, err := book.ParseDay(d.String()); err != nil || back != d {
			t.Fatalf("%d prints %s, reads %d %v", d, d, back, err)
		}
	})
}

func TestProblems(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"no price", "[[steel]]\nshape = \"flat\"\nsize = \"2 x 1/4\"\nlength = 240\ndate = 2026-01-01\n", "a price is missing"},
		{"two prices", "[[steel]]\nshape = \"flat\"\nsize = \"2 x 1/4\"\nlength = 240\nprice = 2\nprice_ft = 1\ndate = 2026-01-01\n", "exclude each other"},
		{"stick without length", "[[steel]]\nshape = \"flat\"\nsize = \"2 x 1/4\"\nprice = 2\ndate = 2026-01-01\n", "needs the stick's length"},
		{"no date", "[[goods]]\nname = \"nut\"\nprice = 1\n", "date is missing"},
		{"wrong date", "[[goods]]\nname = \"nut\"\nprice = 1\ndate = \"last week\"\n", "is no day"},
		{"number as date", "[[goods]]\nname = \"nut\"\nprice = 1\ndate = 20260101\n", "write a day"},
		{"free", "[[goods]]\nname = \"nut\"\nprice = 0\ndate = 2026-01-01\n", "more than zero"},
		{"unknown key", "[[goods]]\nname = \"nut\"\nprice = 1\ndate = 2026-01-01\ncolour = \"red\"\n", "there is no key colour"},
		{"wrong size", "[[steel]]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 99ga\"\nlength = 240\nprice = 2\ndate = 2026-01-01\n", "99ga"},
		{"wrong grade", "[[steel]]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\ngrade = \"cheese\"\nlength = 240\nprice = 2\ndate = 2026-01-01\n", "cheese"},
		{"old_after", "old_after = 0\n", "from 1 to 3650"},
		{"kind", "[[goods]]\nname = \"nut\"\nkind = \"fruit\"\nprice = 1\ndate = 2026-01-01\n", "fruit"},
		{"holds", "[[goods]]\nname = \"nut\"\nprice = 1\nholds = \"1gal\"\ndate = 2026-01-01\n", "only wire, paint and gas"},
		{"wire by volume", "[[goods]]\nname = \"FCAW-S\"\nkind = \"wire\"\nprice = 1\nholds = \"1gal\"\ndate = 2026-01-01\n", "mass"},
		{"empty name", "[[goods]]\nname = \"  \"\nprice = 1\ndate = 2026-01-01\n", "empty"},
		{"no toml", "[[steel\n", "]"},
	} {
		b, problems := book.Read("prices.toml", []byte(c.src), table.Steel())
		if len(problems) == 0 || !strings.Contains(problems[0].Message, c.want) {
			t.Errorf("%s: %v", c.name, problems)
		}
		if len(b.Steel)+len(b.Goods) > 0 && c.name != "unknown key" {
			t.Errorf("%s: the entry is in the book all the same", c.name)
		}
	}
}

func TestEditsKeepComments(t *testing.T) {
	b := read(t, sample)
	d, _ := book.ParseDay("2026-11-25")
	out, replaced, err := b.PutSteel(book.Steel{Shape: "rect-tube", Size: "2 x 1 x 14ga", Section: tube(t), Length: 20 * measure.Foot, Price: 3525 * measure.Cent, Supplier: "Harbour Steel", Date: d})
	if err != nil || !replaced {
		t.Fatal(replaced, err)
	}
	if s := string(out); !strings.Contains(s, "price    = 35.25          # as quoted") || !strings.Contains(s, "# prices by the phone, mostly") || !strings.Contains(s, "date     = 2026-11-25") {
		t.Errorf("the edit lost something:\n%s", s)
	}
	b = read(t, string(out))
	out, replaced, err = b.PutSteel(book.Steel{Shape: "flat", Size: "2 x 1/4", Length: 6 * measure.Metre, Price: 12345, Per: book.PerStick, Supplier: "quote \" and \x1b[31m", Date: d, Least: 3, Note: "cut"})
	if err != nil || replaced {
		t.Fatal(replaced, err)
	}
	b = read(t, string(out))
	got := b.Steel[len(b.Steel)-1]
	if got.Length != 6*measure.Metre || got.Price != 12345 || got.Least != 3 || got.Date != d || strings.ContainsRune(got.Supplier, 27) {
		t.Errorf("read back %+v", got)
	}
	out, replaced, err = b.PutGoods(book.Goods{Name: "Caster", Kind: "part", Price: 15 * measure.Whole, Pack: 2, Date: d})
	if err != nil || !replaced {
		t.Fatal(replaced, err)
	}
	b = read(t, string(out))
	out, _, err = b.PutGoods(book.Goods{Name: "gas, 75/25, 80 cu ft", Kind: "gas", Price: 62 * measure.Whole, Date: d})
	if err != nil {
		t.Fatal(err)
	}
	b = read(t, string(out))
	n := len(b.Steel) + len(b.Goods)
	if out, err = b.Delete(n); err != nil {
		t.Fatal(err)
	}
	if b = read(t, string(out)); len(b.Goods) != 1 || b.Goods[0].Price != 15*measure.Whole {
		t.Errorf("after deleting the last: %+v", b.Goods)
	}
	if out, err = b.Delete(1); err != nil {
		t.Fatal(err)
	}
	if b = read(t, string(out)); b.Steel[0].Price != 33*measure.Whole {
		t.Errorf("after deleting the first: %+v", b.Steel)
	}
	if _, err = b.Delete(99); err == nil {
		t.Error("a line that is not there was deleted")
	}
}

// Any amount and any length goes into the text and comes back as itself.
func TestPutReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, _ := book.Read("prices.toml", nil, table.Steel())
		s := book.Steel{Shape: "square-tube", Size: "40 x 40 x 3mm", Length: measure.Length(rapid.Int64Range(1, int64(30*measure.Metre)).Draw(t, "length")),
			Price: measure.Money(rapid.Int64Range(1, 1e9).Draw(t, "price")), Per: book.Per(rapid.IntRange(0, 3).Draw(t, "per")), Date: book.Day(rapid.IntRange(366, 80000).Draw(t, "day")),
			Supplier: rapid.StringMatching(`[ -~]{0,20}`).Draw(t, "supplier"), Least: rapid.IntRange(1, 20).Draw(t, "least")}
		s.Size = "40mm x 40mm x 3mm"
		out, _, err := b.PutSteel(s)
		if err != nil {
			t.Fatal(err)
		}
		again, problems := book.Read("prices.toml", out, table.Steel())
		if len(problems) > 0 || len(again.Steel) != 1 {
			t.Fatalf("%v\n%s", problems, out)
		}
		got := again.Steel[0]
		if got.Length != s.Length || got.Price != s.Price || got.Per != s.Per || got.Date != s.Date || got.Least != s.Least {
			t.Fatalf("%+v came back as %+v\n%s", s, got, out)
		}
	})
}

func TestLimits(t *testing.T) {
	var s strings.Builder
	for range book.MaxEntries {
		s.WriteString("[[goods]]\nname=\"n\"\nprice=1\ndate=2026-01-01\n")
	}
	b, problems := book.Read("prices.toml", []byte(s.String()), table.Steel())
	if len(problems) > 0 || len(b.Goods) != book.MaxEntries {
		t.Errorf("%d prices, the limit: %d were read, told %v", book.MaxEntries, len(b.Goods), problems)
	}
	goods := "[[goods]]\nname = \"n\"\nprice = 1\ndate = 2026-01-01\n"
	for _, c := range []struct{ text, want string }{
		{s.String() + goods, "more than 20000 prices; take the oldest out"},
		{"currency = \"" + strings.Repeat("$", 13) + "\"", "a currency is a short sign"},
		{"old_after = 3651", "a whole number from 1 to 3650"},
		{goods + "least = 10001", "a whole number from 1 to 10000"},
		{goods + "pack = 1000001", "a whole number from 1 to 1000000"},
		{goods + "note = \"" + strings.Repeat("x", 121) + "\"", "at most 120 characters"},
		{goods + "kind = \"wire\"\nholds = \"" + "1" + strings.Repeat(" ", 120) + "lb\"", "at most 120 characters"},
	} {
		_, problems := book.Read("prices.toml", []byte(c.text), table.Steel())
		if len(problems) != 1 || !strings.Contains(problems[0].Message, c.want) {
			t.Errorf("%.60q...: told %v, want %q", c.text, problems, c.want)
		}
	}
}

func FuzzBook(f *testing.F) {
	f.Add([]byte(sample))
	f.Add([]byte("[[steel]]\nshape=\"flat\"\nsize=\"2 x 1/4\"\nprice_kg=1e9\ndate=\"2026-01-01\"\nsupplier=\"\\u001b]0;x\\u0007\"\n"))
	f.Add([]byte("goods = [ {name = \"nut\", price = 0.01, pack = 100, date = 2026-01-01} ]\n"))
	cat := table.Steel()
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		b, problems := book.Read("prices.toml", data, cat)
		for _, s := range b.Steel {
			for _, w := range []string{s.Supplier, s.Note, s.Size, s.Grade} {
				if text.Clean(w) != w {
					t.Fatalf("%q is not clean", w)
				}
			}
			if s.Price <= 0 || s.Least < 1 || !s.Date.Known() {
				t.Fatalf("%+v", s)
			}
			b.Stick(s.Section, max(s.Length, 1), "")
		}
		for _, g := range b.Goods {
			for _, q := range b.Find(g.Name) {
				q.For(7)
			}
		}
		if text.HasErrors(problems) || len(b.Steel)+len(b.Goods) == 0 {
			return
		}
		out, err := b.Delete(1)
		if err != nil {
			return
		}
		again, problems := book.Read("prices.toml", out, cat)
		if text.HasErrors(problems) || len(again.Steel)+len(again.Goods) != len(b.Steel)+len(b.Goods)-1 {
			t.Fatalf("deleting the first of\n%s\nleaves\n%s\n%v", data, out, problems)
		}
	})
}

func ExampleBook_Stick() {
	b, _ := book.Read("prices.toml", []byte(`
[[steel]]
shape = "rect-tube"
size = "2 x 1 x 14ga"
length = "20ft"
price = 33.00
supplier = "Harbour Steel"
date = 2026-08-02
`), table.Steel())
	sec := b.Steel[0].Section
	q := b.Stick(sec, 20*measure.Foot, "")[0]
	today, _ := book.ParseDay("2026-11-25")
	fmt.Println(q.Each, q.Supplier, q.Date, "old:", b.Old(q.Date, today))
	// Output: 33.00 Harbour Steel 2026-08-02 old: true
}
