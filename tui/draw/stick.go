package draw

import (
	"math"
	"strings"
)

// Part is one stretch of a stick as it is drawn: a piece, a kerf or the drop. From and To are tips in mm; the slants say
// how far the far (upper) edge of an end lies to the right of its near (lower) edge, in mm.
type Part struct {
	From, To              float64
	LeftSlant, RightSlant float64
	Label                 string
	Layer                 uint8
	Fill                  rune // 0: blank
}

// Stick draws a stick of the given length to scale, rows high and w cells wide. Slanted ends are slanted where the scale
// shows it. Each cell's layer chooses its style.
func Stick(length float64, parts []Part, w, rows int, unicode bool, style func(layer uint8, run string) string) []string {
	if w < 4 || rows < 1 || !(length > 0) {
		return nil
	}
	scale := float64(w-1) / length
	cells := make([][]rune, rows)
	layers := make([][]uint8, rows)
	for r := range cells {
		cells[r] = []rune(strings.Repeat(" ", w))
		layers[r] = make([]uint8, w)
	}
	bar, up, down := '|', '/', '\\'
	if unicode {
		bar, up, down = '│', '╱', '╲'
	}
	col := func(mm float64) int { return min(w-1, max(0, int(math.Round(mm*scale)))) }
	for _, p := range parts {
		for r := range rows {
			// Row 0 is the far edge, the last row the near edge.
			t := 0.5
			if rows > 1 {
				t = 1 - float64(r)/float64(rows-1)
			}
			left := p.From + math.Max(0, -p.LeftSlant) + t*p.LeftSlant
			right := p.To - math.Max(0, p.RightSlant) + t*p.RightSlant
			a, b := col(left), col(right)
			for x := a; x <= b && x < w; x++ {
				layers[r][x] = p.Layer
				switch {
				case x == a:
					cells[r][x] = edgeRune(p.LeftSlant*scale, bar, up, down)
				case x == b:
					cells[r][x] = edgeRune(p.RightSlant*scale, bar, up, down)
				case p.Fill != 0:
					cells[r][x] = p.Fill
				default:
					cells[r][x] = ' '
				}
			}
			if r == rows/2 {
				label := []rune(p.Label)
				if room := b - a - 1; len(label) > 0 && len(label) <= room {
					at := a + 1 + (room-len(label))/2
					copy(cells[r][at:], label)
				}
			}
		}
	}
	out := make([]string, rows)
	for r := range cells {
		var b strings.Builder
		from := 0
		for x := 1; x <= w; x++ {
			if x == w || layers[r][x] != layers[r][from] {
				b.WriteString(style(layers[r][from], string(cells[r][from:x])))
				from = x
			}
		}
		out[r] = b.String()
	}
	return out
}

// PartAt gives the part that stands in a column of a stick drawn w cells wide, the last one drawn where several do; -1 for none.
func PartAt(length float64, parts []Part, w, x int) int {
	if w < 4 || x < 0 || x >= w || !(length > 0) {
		return -1
	}
	half := length / float64(w-1) / 2
	mm := float64(x) * 2 * half
	for i := len(parts) - 1; i >= 0; i-- {
		if mm >= parts[i].From-half && mm <= parts[i].To+half {
			return i
		}
	}
	return -1
}

// edgeRune is the sign of an end; a slant of less than half a cell looks square.
func edgeRune(cells float64, bar, up, down rune) rune {
	switch {
	case cells > 0.5:
		return up
	case cells < -0.5:
		return down
	}
	return bar
}

// Gauge draws a bar of w cells filled by share (0..1).
func Gauge(share float64, w int, full, empty rune) string {
	n := int(math.Round(math.Max(0, math.Min(1, share)) * float64(w)))
	return strings.Repeat(string(full), n) + strings.Repeat(string(empty), max(0, w-n))
}
