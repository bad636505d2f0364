package draw

import "math"

// Canvas is a grid of cells that lines are drawn on: 2 x 4 dots in each cell (braille), or one sign a cell where the
// terminal has no Unicode. Each cell remembers the highest layer drawn in it, which the caller turns into a style.
type Canvas struct {
	W, H    int
	dots    []uint8
	layer   []uint8
	text    []rune
	unicode bool
}

// NewCanvas makes an empty canvas of w x h cells.
func NewCanvas(w, h int, unicode bool) *Canvas {
	w, h = max(w, 0), max(h, 0)
	return &Canvas{W: w, H: h, dots: make([]uint8, w*h), layer: make([]uint8, w*h), text: make([]rune, w*h), unicode: unicode}
}

// Size gives the canvas in dots.
func (c *Canvas) Size() (x, y int) { return 2 * c.W, 4 * c.H }

var braille = [4][2]uint8{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// Dot sets the dot at x, y (from the top left); dots outside are left out.
func (c *Canvas) Dot(x, y int, layer uint8) {
	if x < 0 || y < 0 || x >= 2*c.W || y >= 4*c.H {
		return
	}
	i := y/4*c.W + x/2
	c.dots[i] |= braille[y%4][x%2]
	c.layer[i] = max(c.layer[i], layer)
}

// Line draws from one dot to another; parts outside the canvas are clipped first, so that no length of line costs time.
func (c *Canvas) Line(x0, y0, x1, y1 float64, layer uint8) {
	w, h := c.Size()
	x0, y0, x1, y1, ok := clip(x0, y0, x1, y1, float64(w), float64(h))
	if !ok {
		return
	}
	n := int(math.Ceil(math.Max(math.Abs(x1-x0), math.Abs(y1-y0))))
	for i := 0; i <= n; i++ {
		t := 0.0
		if n > 0 {
			t = float64(i) / float64(n)
		}
		c.Dot(int(math.Round(x0+t*(x1-x0))), int(math.Round(y0+t*(y1-y0))), layer)
	}
}

// clip cuts a segment to the rectangle -1..w, -1..h (Liang and Barsky, 1984).
func clip(x0, y0, x1, y1, w, h float64) (a, b, c, d float64, ok bool) {
	for _, v := range []float64{x0, y0, x1, y1} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, 0, 0, 0, false
		}
	}
	t0, t1 := 0.0, 1.0
	dx, dy := x1-x0, y1-y0
	for _, e := range [4][2]float64{{-dx, x0 + 1}, {dx, w - x0}, {-dy, y0 + 1}, {dy, h - y0}} {
		p, q := e[0], e[1]
		if p == 0 {
			if q < 0 {
				return 0, 0, 0, 0, false
			}
			continue
		}
		r := q / p
		if p < 0 {
			t0 = math.Max(t0, r)
		} else {
			t1 = math.Min(t1, r)
		}
	}
	if t0 > t1 {
		return 0, 0, 0, 0, false
	}
	return x0 + t0*dx, y0 + t0*dy, x0 + t1*dx, y0 + t1*dy, true
}

// Text writes over the cells from column x of row y on.
func (c *Canvas) Text(x, y int, s string, layer uint8) {
	if y < 0 || y >= c.H {
		return
	}
	for _, r := range s {
		if x >= 0 && x < c.W {
			i := y*c.W + x
			c.text[i], c.layer[i] = r, max(c.layer[i], layer)
		}
		x++
	}
}

// Rows gives the canvas as text; style turns a run of one layer into styled text.
func (c *Canvas) Rows(style func(layer uint8, run string) string) []string {
	rows := make([]string, c.H)
	run := make([]rune, 0, c.W)
	for y := range c.H {
		var line string
		at := uint8(0)
		run = run[:0]
		flush := func() {
			if len(run) > 0 {
				line += style(at, string(run))
				run = run[:0]
			}
		}
		for x := range c.W {
			i := y*c.W + x
			if c.layer[i] != at {
				flush()
				at = c.layer[i]
			}
			run = append(run, c.cell(i))
		}
		flush()
		rows[y] = line
	}
	return rows
}

func (c *Canvas) cell(i int) rune {
	switch {
	case c.text[i] != 0:
		return c.text[i]
	case c.dots[i] == 0:
		return ' '
	case c.unicode:
		return rune(0x2800) + rune(c.dots[i])
	}
	return ascii(c.dots[i])
}

// ascii chooses the sign that comes nearest to a cell's dots.
func ascii(d uint8) rune {
	left := d & (0x01 | 0x02 | 0x04 | 0x40)
	right := d & (0x08 | 0x10 | 0x20 | 0x80)
	top := d & (0x01 | 0x02 | 0x08 | 0x10)
	low := d & (0x04 | 0x40 | 0x20 | 0x80)
	rows := 0
	for y := range 4 {
		if d&(braille[y][0]|braille[y][1]) != 0 {
			rows++
		}
	}
	switch {
	case rows == 1 && low == 0:
		return '-'
	case rows == 1:
		return '_'
	case left == 0 || right == 0:
		return '|'
	case left&(0x04|0x40) != 0 && right&(0x08|0x10) != 0 && left&0x01 == 0:
		return '/'
	case left&(0x01|0x02) != 0 && right&(0x20|0x80) != 0 && right&0x08 == 0:
		return '\\'
	case top == 0:
		return '_'
	}
	return '+'
}
