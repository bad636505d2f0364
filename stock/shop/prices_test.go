package shop

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/table"
)

func prices(t *testing.T, path string) *Prices {
	t.Helper()
	p, problems, err := LoadPrices(file.OS, path, table.Steel())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return p
}

func TestPricesFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "prices.toml")
	p := prices(t, path) // not there yet
	day, err := book.ParseDay("2026-11-02")
	if err != nil {
		t.Fatal(err)
	}
	s := book.Steel{Shape: "rect-tube", Size: "2 x 1 x 14ga", Section: section(t, "2 x 1 x 14ga"), Length: 20 * measure.Foot, Price: 33 * measure.Whole, Supplier: "Harbour Steel", Date: day}
	if replaced, err := p.PutSteel(s); err != nil || replaced {
		t.Fatal(replaced, err)
	}
	if _, err := p.PutGoods(book.Goods{Name: "caster", Kind: "part", Price: 14 * measure.Whole, Date: day}); err != nil {
		t.Fatal(err)
	}
	s.Price, s.Date = 34*measure.Whole, day+9
	if replaced, err := p.PutSteel(s); err != nil || !replaced {
		t.Fatal("the same article again:", replaced, err)
	}
	if err := p.Renew(2, 15*measure.Whole, day+3); err != nil {
		t.Fatal(err)
	}
	b := prices(t, path).Book
	if len(b.Steel) != 1 || b.Steel[0].Price != 34*measure.Whole || b.Steel[0].Date != day+9 || len(b.Goods) != 1 || b.Goods[0].Price != 15*measure.Whole || b.Goods[0].Date != day+3 {
		t.Errorf("read back %+v %+v", b.Steel, b.Goods)
	}
	if err := p.Renew(3, 1, day); !errors.Is(err, book.ErrNoLine) {
		t.Errorf("a third line of two: %v", err)
	}
	if err := p.Remove(1); err != nil {
		t.Fatal(err)
	}
	if b = prices(t, path).Book; len(b.Steel) != 0 || len(b.Goods) != 1 {
		t.Errorf("after removing the steel: %+v", b)
	}
	// What the reader would refuse never gets into the file.
	if _, err := p.PutGoods(book.Goods{Name: strings.Repeat("x", 500), Kind: "part", Price: 1, Date: day}); err == nil {
		t.Error("a name without end was written")
	}
	if b = prices(t, path).Book; len(b.Goods) != 1 {
		t.Errorf("the refused price is in the file: %+v", b.Goods)
	}
	if err := os.WriteFile(path, []byte("# somebody else\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := p.Remove(1); !errors.Is(err, file.ErrChanged) {
		t.Errorf("writing over somebody else's change: %v", err)
	}
}

// A full book takes no more articles, says so and stays as it was; a new price of an article that it holds goes in.
func TestFullBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "prices.toml")
	full := strings.Repeat("[[goods]]\nname=\"n\"\nprice=1\ndate=2026-01-01\n", book.MaxEntries)
	if err := os.WriteFile(path, []byte(full), 0o644); err != nil {
		t.Fatal(err)
	}
	p := prices(t, path)
	day := p.Book.Goods[0].Date
	if _, err := p.PutGoods(book.Goods{Name: "caster", Kind: "part", Price: 1, Date: day}); err == nil || !strings.Contains(err.Error(), "more than 20000 prices; take the oldest out") {
		t.Errorf("one price more than the limit: %v", err)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != full {
		t.Errorf("the file was touched: %d bytes, %v", len(b), err)
	}
	if replaced, err := p.PutGoods(book.Goods{Name: "n", Kind: "other", Price: 2 * measure.Whole, Date: day + 1, Pack: 1, Least: 1}); err != nil || !replaced {
		t.Errorf("a newer price of an article in a full book: replaced %v, %v", replaced, err)
	}
}
