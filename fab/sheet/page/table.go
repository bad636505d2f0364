package page

import "math"

// Column is a column of a table.
type Column struct {
	Head     string
	Width    float64 // mm; 0: a share of what the others leave
	Size     float64 // points; 0: 12
	Bold     bool
	Right    bool // figures, set to the right
	HeadLine string
}

// Cell is one cell. Box is a square to tick before the text; Blank a line to write on.
type Cell struct {
	Text  string
	Box   bool
	Blank bool
	Bold  bool
	Lines []string // made by Lay
}

// Row is a row of cells. Wide rows have one cell over the whole width, as a heading within the table.
type Row struct {
	Cells []Cell
	Wide  bool
	High  float64 // made by Lay
}

// Table is a table. Its head is repeated on every page that it goes on to.
type Table struct {
	Columns []Column
	Rows    []Row
	Least   float64 // least height of a row, mm: room to write
	laid    bool
}

// The measures of tables.
const (
	HeadSize = 10.0
	CellPad  = 1.3 // left and right of a cell's text
	RowPad   = 0.9 // over and under it
	BoxMM    = 4.6
	mostRows = 30 // lines of one row; longer ones go on in a further row
)

// HeadHigh gives the height of the table's head; 0 where no column has one.
func (b *Table) HeadHigh() float64 {
	for _, c := range b.Columns {
		if c.Head != "" {
			return LineMM(HeadSize) + 2*RowPad
		}
	}
	return 0
}

func (b *Table) lay(w float64) float64 {
	if !b.laid {
		b.fit(w)
		b.laid = true
	}
	h := b.HeadHigh() + 2.5
	for i := range b.Rows {
		h += b.Rows[i].High
	}
	return h
}

// fit gives columns their widths and rows their lines.
func (b *Table) fit(w float64) {
	open, used := 0, 0.0
	for i := range b.Columns {
		c := &b.Columns[i]
		if c.Size == 0 {
			c.Size = 12
		}
		used += c.Width
		if c.Width == 0 {
			open++
		}
	}
	for i := range b.Columns {
		c := &b.Columns[i]
		if c.Width == 0 {
			c.Width = max(10, (w-used)/float64(open))
		}
		c.HeadLine = Cut(c.Head, HeadSize, true, c.Width-2*CellPad)
	}
	var rows []Row
	for _, r := range b.Rows {
		r.Cells = append([]Cell(nil), r.Cells...)
		most := 0
		for i := range r.Cells {
			c := &r.Cells[i]
			width, size, bold := w, 12.0, true
			if !r.Wide {
				col := &b.Columns[i]
				width, size, bold = col.Width, col.Size, col.Bold || c.Bold
			}
			width -= 2 * CellPad
			if c.Box {
				width -= BoxMM + 1
			}
			c.Lines = Wrap(c.Text, size, bold, max(4, width))
			most = max(most, len(c.Lines))
		}
		for from := 0; from < most; from += mostRows { // what is too long for a page goes on in a further row
			part := Row{Wide: r.Wide, Cells: append([]Cell(nil), r.Cells...)}
			for i := range part.Cells {
				c := &part.Cells[i]
				c.Lines = c.Lines[min(from, len(c.Lines)):min(from+mostRows, len(c.Lines))]
				if from > 0 {
					c.Box, c.Blank = false, false
				}
				size := 12.0
				if !r.Wide {
					size = b.Columns[i].Size
				}
				part.High = math.Max(part.High, float64(len(c.Lines))*LineMM(size)+2*RowPad)
				if c.Box {
					part.High = math.Max(part.High, BoxMM+2*RowPad)
				}
			}
			if !r.Wide {
				part.High = math.Max(part.High, b.Least)
			}
			rows = append(rows, part)
		}
	}
	b.Rows = rows
}

// split gives the rows that a height holds as a table of their own, and the rest; nil where not even one row fits.
func (b *Table) split(room float64) (first, rest *Table) {
	h := b.HeadHigh() + 2.5
	n := 0
	for n < len(b.Rows) && h+b.Rows[n].High <= room+1e-9 {
		h += b.Rows[n].High
		n++
	}
	for n > 0 && n < len(b.Rows) && b.Rows[n-1].Wide { // a heading within the table goes with the row under it
		n--
	}
	if n == 0 {
		return nil, b
	}
	one, two := *b, *b
	one.Rows, two.Rows = b.Rows[:n], b.Rows[n:]
	return &one, &two
}
