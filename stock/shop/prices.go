package shop

import (
	"errors"
	"fmt"
	"io/fs"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
)

// Prices is the shop's price book, prices.toml, as it was read; fab/book says what it holds. Changes are written aside,
// synced and renamed, and only if the file still is what was read; comments and order stay.
type Prices struct {
	Book  *book.Book
	path  string
	cat   steel.Catalogue
	stamp file.Stamp
	sys   file.System
}

// LoadPrices reads the book at path; a file that is not there is an empty book.
func LoadPrices(sys file.System, path string, cat steel.Catalogue) (*Prices, []text.Problem, error) {
	p := &Prices{path: path, cat: cat, sys: sys}
	data, stamp, err := file.Read(sys, path, file.MaxText)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, nil, err
	}
	p.stamp = stamp
	var problems []text.Problem
	p.Book, problems = book.Read(path, data, cat)
	return p, problems, nil
}

// PutSteel writes a price of steel into the book; replaced tells that it took the place of an older one.
func (p *Prices) PutSteel(s book.Steel) (replaced bool, err error) {
	out, replaced, err := p.Book.PutSteel(s)
	return replaced, p.write(out, err)
}

// PutGoods writes a price of goods into the book.
func (p *Prices) PutGoods(g book.Goods) (replaced bool, err error) {
	out, replaced, err := p.Book.PutGoods(g)
	return replaced, p.write(out, err)
}

// Renew gives the n-th price (from 1, steel first, then goods) a new amount and day.
func (p *Prices) Renew(n int, price measure.Money, date book.Day) error {
	return p.write(p.Book.Renew(n, price, date))
}

// Remove takes the n-th price out.
func (p *Prices) Remove(n int) error { return p.write(p.Book.Delete(n)) }

func (p *Prices) write(data []byte, err error) error {
	if err != nil {
		return err
	}
	// What is written is what will be read: an entry that the reader refuses never gets into the file.
	b, problems := book.Read(p.path, data, p.cat)
	if text.HasErrors(problems) {
		return fmt.Errorf("the book would not read any more: %s", problems[0].Message)
	}
	if err := file.Write(p.sys, p.path, data, file.Options{Expect: &p.stamp}); err != nil {
		return err
	}
	p.Book, p.stamp = b, file.StampOf(data)
	return nil
}
