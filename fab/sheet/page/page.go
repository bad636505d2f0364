// Package page holds printed pages as plain values, and lays them out.
//
// A part of a packet (the cut sheet, the labels) is a list of blocks: headings, texts, cautions, tables, drawings, rows of
// facts. Lay puts the blocks of all parts on pages: a table is broken between rows and its head repeated, what belongs
// together stays together, a long text goes on overleaf. Writers (package paper) only put down what stands here, each block
// at its place: they break no line and no page.
//
// Every page keeps to a field of 186 by 254 mm, which Letter (216 by 279 mm) and A4 (210 by 297 mm) both hold within margins
// of 12 mm. So one lay-out serves both papers, and a page printed on the other paper loses nothing.
//
// Sizes of type are points, everything else mm, from the field's upper left corner, y down.
package page

import "time"

// The field that every page keeps to, mm.
const (
	Width  = 186.0
	Height = 254.0
	Margin = 12.0 // least, on both papers
)

// Paper is what is printed on.
type Paper int

// The papers.
const (
	Either Paper = iota // whatever lies in the printer
	Letter
	A4
)

// SizeMM gives width and height of the paper; Letter where it is left open.
func (p Paper) SizeMM() (w, h float64) {
	if p == A4 {
		return 210, 297
	}
	return 215.9, 279.4
}

// String gives the paper's name in lower case, "" where it is left open.
func (p Paper) String() string { return [...]string{"", "letter", "a4"}[p] }

// Document is what is printed in one go.
type Document struct {
	Title    string    // of the job
	Name     string    // of the document: "shop packet", "quote"
	Revision string    // short code of what it was made from: pages of two revisions do not belong together
	Made     time.Time // the day that is printed; none where it is zero
	Paper    Paper
	Pages    []Page
}

// Day gives the date as it is printed; "" where there is none.
func (d *Document) Day() string {
	if d.Made.IsZero() {
		return ""
	}
	return d.Made.Format(time.DateOnly)
}

// Page is one side of paper.
type Page struct {
	Part   string // the part of the packet that it belongs to
	Number int    // from 1
	First  bool   // of its part
	Blocks []Placed
}

// Placed is a block at its place on the page.
type Placed struct {
	Y, H  float64
	Block Block
}

// Part is one part of a packet; it begins on a new page.
type Part struct {
	Name   string
	Blocks []Block
}

// Block is something that stands on a page over its whole width.
type Block interface {
	// lay fits the block into a width, and gives its height.
	lay(width float64) float64
}

// Heading stands over blocks and keeps to the next one. Level 1 names a part, 2 a section of it, 3 a piece or stick.
type Heading struct {
	Level int
	Text  string
	Lines []string // made by Lay
}

// HeadingSize gives the size of type of a level.
func HeadingSize(level int) float64 { return [...]float64{26, 26, 17, 14}[min(max(level, 0), 3)] }

func (b *Heading) lay(w float64) float64 {
	b.Lines = Wrap(b.Text, HeadingSize(b.Level), true, w)
	return float64(len(b.Lines))*LineMM(HeadingSize(b.Level)) + [...]float64{3, 3, 2, 1}[b.Level]
}

// Text is a paragraph. Size 0 is 12 points.
type Text struct {
	Text  string
	Size  float64
	Bold  bool
	Keep  bool     // stays with the block after it
	Lines []string // made by Lay
}

func (b *Text) lay(w float64) float64 {
	if b.Size == 0 {
		b.Size = 12
	}
	if b.Lines == nil {
		b.Lines = Wrap(b.Text, b.Size, b.Bold, w)
	}
	return float64(len(b.Lines))*LineMM(b.Size) + 1.5
}

// Caution is a warning in a frame, with its sign.
type Caution struct {
	Text  string
	Lines []string // made by Lay
}

// The measures of a caution.
const (
	CautionSize  = 12.0
	CautionInset = 11.0 // of the text, for the sign
	CautionPad   = 2.0
)

func (b *Caution) lay(w float64) float64 {
	if b.Lines == nil {
		b.Lines = Wrap(b.Text, CautionSize, false, w-CautionInset-CautionPad)
	}
	return float64(len(b.Lines))*LineMM(CautionSize) + 2*CautionPad + 2
}

// Fact is a figure that is read from afar.
type Fact struct {
	Name, Value string
	NameLine    string // made by Lay
	Size        float64
}

// Facts stand in a row, each as wide as the others.
type Facts struct {
	Facts []Fact
}

// The measures of facts.
const (
	FactName  = 11.0
	FactValue = 22.0
	FactHigh  = 17.0
)

func (b *Facts) lay(w float64) float64 {
	each := w / float64(max(1, len(b.Facts)))
	for i := range b.Facts {
		f := &b.Facts[i]
		f.NameLine = Cut(f.Name, FactName, false, each-6)
		f.Size = Fit(f.Value, FactValue, 9, true, each-6)
		f.Value = Cut(f.Value, f.Size, true, each-5)
	}
	return FactHigh + 3
}

// Space is empty room.
type Space struct{ MM float64 }

func (b *Space) lay(float64) float64 { return b.MM }

// Group keeps blocks together on one page, where one page holds them.
type Group struct {
	Blocks []Block
	Loose  bool // may be broken where the page would stay nearly empty otherwise
}

func (b *Group) lay(w float64) float64 {
	h := 0.0
	for _, x := range b.Blocks {
		h += x.lay(w)
	}
	return h
}
