// Package shop keeps the shop's own list of drops and sticks: drops.toml, a file that a person can read and mend.
//
//	[[drop]]
//	shape  = "rect-tube"
//	size   = "2 x 1 x 14ga"
//	length = "61-1/4in"
//	qty    = 2
//	ends   = [45, 0]        # where they are not square
//	note   = "left of the gate"
//
// Every change is written aside, synced and renamed, and only if the file still is what was read; comments and order stay.
package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
)

// Limits of the list.
const (
	MaxDrops = 5000
	maxQty   = 10_000
	maxNote  = 500
)

// Drop is one line of the list.
type Drop struct {
	Shape, Size string // as written
	Section     steel.Section
	Length      measure.Length
	Ends        [2]float64
	Qty         int
	Note        string
}

// List is the shop's list as it was read.
type List struct {
	Drops []Drop
	path  string
	doc   *text.Doc
	stamp file.Stamp
	sys   file.System
}

// Load reads the list at path; a file that is not there is an empty list.
func Load(sys file.System, path string, cat steel.Catalogue) (*List, []text.Problem, error) {
	l := &List{path: path, sys: sys}
	data, stamp, err := file.Read(sys, path, file.MaxText)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, nil, err
	}
	l.stamp = stamp
	doc, problems := text.Parse(path, data)
	if doc == nil || text.HasErrors(problems) {
		return nil, problems, nil
	}
	l.doc = doc
	rd := text.NewReading(path)
	top := rd.Top(doc)
	for i, f := range top.Tables("drop") {
		if i == MaxDrops {
			top.Fault(text.CodeTooMuch, "drop", "more than %d drops", MaxDrops)
			break
		}
		d := Drop{Qty: 1}
		shape := ""
		shapeOK := f.Choice("shape", &shape, text.Need, steel.ShapeNames()...)
		if f.Text("size", &d.Size, text.Need) && shapeOK {
			s, _ := steel.ParseShape(shape)
			sec, err := steel.New(steel.Spec{Shape: s, Size: d.Size, Unit: measure.In}, cat)
			if err != nil {
				f.Fault(text.CodeValue, "size", "%v", err)
			}
			d.Shape, d.Section = shape, sec
		}
		f.Length("length", &d.Length, text.Need|text.Positive)
		f.Count("qty", &d.Qty, 1, maxQty, 0)
		f.Text("note", &d.Note, 0)
		for k, v := range f.List("ends", 2, 2, "[45, 0]", 0) {
			a, err := measure.ParseAngle(v.Text)
			if err != nil {
				f.FaultAt(v, text.CodeValue, "ends", "%v", err)
			}
			d.Ends[k] = a
		}
		f.Done()
		l.Drops = append(l.Drops, d)
	}
	top.Done()
	return l, append(problems, rd.Problems()...), nil
}

// Add puts a drop on the list and writes the file.
func (l *List) Add(d Drop) error {
	for i, o := range l.Drops {
		if o.Section.Same(d.Section) && o.Length == d.Length && o.Ends == d.Ends && o.Note == d.Note {
			return l.write(l.doc.Set(text.At("drop", i+1, "qty"), strconv.Itoa(o.Qty+d.Qty)))
		}
	}
	if len(l.Drops) >= MaxDrops {
		return fmt.Errorf("the list holds %d drops, its limit", MaxDrops)
	}
	fields := []text.Field{{Key: "shape", Value: text.Quote(d.Shape)}, {Key: "size", Value: text.Quote(d.Size)}, {Key: "length", Value: text.Quote(exact(d.Length))},
		{Key: "qty", Value: strconv.Itoa(d.Qty)}}
	if d.Ends != ([2]float64{}) {
		fields = append(fields, text.Field{Key: "ends", Value: fmt.Sprintf("[%s, %s]", number(d.Ends[0]), number(d.Ends[1]))})
	}
	if d.Note != "" {
		if utf8.RuneCountInString(d.Note) > maxNote {
			return fmt.Errorf("a note holds at most %d characters", maxNote)
		}
		fields = append(fields, text.Field{Key: "note", Value: text.Quote(d.Note)})
	}
	return l.write(l.doc.AddTable(text.At("drop"), true, fields...))
}

// Take takes qty of line i (from 0) off the list and writes the file.
func (l *List) Take(i, qty int) error {
	if i < 0 || i >= len(l.Drops) {
		return fmt.Errorf("the list has %d lines; there is no line %d", len(l.Drops), i+1)
	}
	switch have := l.Drops[i].Qty; {
	case qty < 1 || qty > have:
		return fmt.Errorf("line %d holds %d", i+1, have)
	case qty == have:
		return l.write(l.doc.Delete(text.At("drop", i+1)))
	default:
		return l.write(l.doc.Set(text.At("drop", i+1, "qty"), strconv.Itoa(have-qty)))
	}
}

func (l *List) write(data []byte, err error) error {
	if err != nil {
		return err
	}
	return file.Write(l.sys, l.path, data, file.Options{Expect: &l.stamp})
}

// exact writes a length so that it reads back as the same: in 64ths of an inch where it is one, else in millimetres.
func exact(v measure.Length) string {
	if v%measure.Sixtyfourth == 0 {
		return strings.TrimSuffix(measure.Sixtyfourths.Print(v), `"`) + "in"
	}
	mm := fmt.Sprintf("%d.%06d", v/measure.Millimetre, v%measure.Millimetre)
	return strings.TrimSuffix(strings.TrimRight(mm, "0"), ".") + "mm"
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
