package job

import (
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// square reads how far out of square a frame may be: a class of ISO 13920, or by how much its diagonals may differ.
func (rd *reader) square(f *text.Fields, c *Check) {
	v := f.Take("square")
	if v == nil {
		return
	}
	word := strings.ToUpper(strings.TrimSpace(v.Text))
	if len(word) == 1 && strings.Contains("ABCD", word) {
		c.SquareClass = word
		return
	}
	raw := v.Text
	if raw == "" {
		raw = v.Raw()
	}
	l, err := measure.ParseLength(raw, v.Doc().Unit)
	if err != nil || l <= 0 {
		f.FaultAt(v, text.CodeValue, "square", `%s is neither a class of ISO 13920 nor a length; write "B" (A to D), or by how much the two diagonals may differ: "1/8in"`, text.Short(v.Raw(), 40))
		return
	}
	c.SquareClass, c.SquareDiff = "", l
}
