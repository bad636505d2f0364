package sum

import (
	"encoding/json"
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
)

// Lines tells a result as text: the values, the working of the figures, the notes. With a tape, lengths in millimetres
// are read on it too.
func (r Result) Lines(tape *measure.Tape) []string {
	var out []string
	for _, v := range r.Values {
		read := func(mm float64) string {
			if tape == nil || !strings.HasSuffix(v.Key, "_mm") || mm > 1e9 || mm < -1e9 {
				return ""
			}
			return " (" + tape.PrintLong(measure.FromMM(mm)) + ")"
		}
		switch x := v.Value.(type) {
		case float64:
			out = append(out, fmt.Sprintf("%-16s %.6g%s", v.Key, x, read(x)))
		case []float64:
			words := make([]string, len(x))
			for i, f := range x {
				words[i] = fmt.Sprintf("%.6g%s", f, read(f))
			}
			out = append(out, fmt.Sprintf("%-16s %s", v.Key, strings.Join(words, "  ")))
		case string, bool, int:
			out = append(out, fmt.Sprintf("%-16s %v", v.Key, x))
		default:
			out = append(out, v.Key)
			j, err := json.MarshalIndent(x, "  ", "  ")
			if err != nil { // a value that cannot be written out is one of ours that is no number
				out = append(out, fmt.Sprintf("  %v", x))
				continue
			}
			out = append(out, strings.Split("  "+string(j), "\n")...)
		}
	}
	for _, f := range r.Figures {
		out = append(out, "")
		out = append(out, strings.Split(strings.TrimRight(f.Working(), "\n"), "\n")...)
	}
	for _, n := range r.Notes {
		out = append(out, "", n)
	}
	return out
}
