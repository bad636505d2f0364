package text

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

func genValue(t *rapid.T, depth int) string {
	max := 7
	if depth > 1 {
		max = 4
	}
	switch rapid.IntRange(0, max).Draw(t, "kind") {
	case 0:
		return fmt.Sprint(rapid.IntRange(-99, 99).Draw(t, "n"))
	case 1:
		return rapid.SampledFrom([]string{"0.0625", "20.784609691", "true", "1979-05-27", "1_000"}).Draw(t, "plain")
	case 2, 3:
		return Quote(rapid.SampledFrom([]string{"8'", `3-1/2"`, "a # b", "x]", "}", "\\", "tab\there", ""}).Draw(t, "text"))
	case 4:
		return "\"\"\"\n# no comment\n[no.table]\n\"\"\""
	case 5:
		return genList(t, depth)
	default:
		n := rapid.IntRange(0, 3).Draw(t, "keys")
		var parts []string
		for _, k := range genKeys(t, n) {
			parts = append(parts, k+" = "+genValue(t, depth+1))
		}
		if n > 1 && rapid.Bool().Draw(t, "dotted") {
			parts = append(parts, "dot.x = 1", "dot.y = 2")
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	}
}

func genList(t *rapid.T, depth int) string {
	n := rapid.IntRange(0, 3).Draw(t, "items")
	var b strings.Builder
	style := rapid.IntRange(0, 2).Draw(t, "style")
	b.WriteString("[")
	for i := 0; i < n; i++ {
		v := genValue(t, depth+1)
		last := i == n-1
		comma := !last || rapid.Bool().Draw(t, "trailing comma")
		switch style {
		case 0:
			b.WriteString(v)
			if comma {
				b.WriteString(", ")
			}
		case 1:
			b.WriteString("\n    " + v)
			if comma {
				b.WriteString(",")
			}
			b.WriteString(rapid.SampledFrom([]string{"", " # c,]", "\t"}).Draw(t, "after"))
		case 2:
			b.WriteString(v)
			if comma {
				b.WriteString(",")
			}
			b.WriteString(" # , x\n  ")
		}
	}
	if style == 1 {
		b.WriteString("\n")
	}
	return b.String() + "]"
}

var keyPool = []string{"name", "at", "width", `"8' x"`, "'q.d'", "size", "from"}

func genKeys(t *rapid.T, n int) []string {
	return rapid.SliceOfNDistinct(rapid.SampledFrom(keyPool), n, n, rapid.ID[string]).Draw(t, "key names")
}

func genDoc(t *rapid.T) string {
	var b strings.Builder
	keys := func() {
		for _, k := range genKeys(t, rapid.IntRange(0, 3).Draw(t, "keys")) {
			b.WriteString(rapid.SampledFrom([]string{"", "  ", "# about the next\n", "\n"}).Draw(t, "before"))
			b.WriteString(k + rapid.SampledFrom([]string{" = ", "=", "    = "}).Draw(t, "eq") + genValue(t, 0))
			b.WriteString(rapid.SampledFrom([]string{"\n", " # c\n", "\n\n"}).Draw(t, "end"))
		}
		if rapid.IntRange(0, 4).Draw(t, "dots") == 0 {
			b.WriteString("dot.a = 1\ndot.b.c = 2\n")
		}
	}
	b.WriteString(rapid.SampledFrom([]string{"", "\ufeff", "# top\n", "# top\n\n"}).Draw(t, "top"))
	keys()
	singles := map[string]bool{}
	for i := rapid.IntRange(0, 6).Draw(t, "tables"); i > 0; i-- {
		b.WriteString(rapid.SampledFrom([]string{"", "\n", "# of the table\n", "# apart\n\n"}).Draw(t, "before table"))
		switch rapid.IntRange(0, 4).Draw(t, "table") {
		case 0, 1:
			b.WriteString("[[rect]]\n")
			singles["rect"] = true
			delete(singles, "sub")
		case 2:
			b.WriteString("[[bar]] # bars\n")
		case 3:
			if !singles["saw"] {
				singles["saw"] = true
				b.WriteString("[saw]\n")
			}
		case 4:
			if singles["rect"] && !singles["sub"] {
				singles["sub"] = true
				b.WriteString("[rect.sub]\n")
			} else {
				b.WriteString("[[bar]]\n[[bar.hole]]\n")
			}
		}
		keys()
	}
	s := b.String()
	if rapid.Bool().Draw(t, "no last line end") {
		s = strings.TrimRight(s, "\n")
	}
	if rapid.Bool().Draw(t, "CR LF") {
		s = strings.ReplaceAll(s, "\n", "\r\n")
	}
	return s
}
