package job

import (
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// bolts reads [[bolts]]. Whether a size or grade exists is for the room that has the tables.
func (rd *reader) bolts() {
	const like = `["lower legs"]`
	for _, f := range rd.tables("bolts") {
		b := Bolts{Where: where(f), Each: 2, Flat: 2, Washer: "sae", Nut: "hex", K: 0.20, Fraction: 0.75, Into: "steel"}
		b.At = needNames(f, "at", like)
		f.Count("each", &b.Each, 1, 64, 0)
		f.Text("size", &b.Size, text.Need)
		if v := f.Take("grade"); v != nil {
			if v.Kind != text.String && v.Kind != text.Integer && v.Kind != text.Float {
				f.FaultAt(v, text.CodeType, "grade", `this is %s; write "5" or "8.8"`, v.Kind)
			}
			b.Grade = trimmed(v.Text)
		}
		b.Stack = rd.stack(f)
		f.Count("flat", &b.Flat, 0, 20, 0)
		f.Choice("washer", &b.Washer, 0, "sae", "uss", "fender")
		f.Count("lock", &b.Lock, 0, 20, 0)
		f.Choice("nut", &b.Nut, 0, "hex", "lock", "none")
		if f.Number("k", &b.K, text.Positive) && b.K > 0.5 {
			f.Fault(text.CodeValue, "k", "a nut factor lies between 0.08 (waxed) and 0.35 (rusty); 0.20 is dry")
		}
		f.Share("fraction", &b.Fraction, text.Positive)
		f.Length("edge", &b.Edge, text.Positive)
		f.Length("apart", &b.Apart, text.Positive)
		f.Choice("into", &b.Into, 0, "steel", "wood", "concrete", "masonry")
		f.Bool("seal", &b.Seal, 0)
		b.Priced = f.Money("price", &b.Price, 0)
		f.Count("box", &b.Box, 1, MaxQty, 0)
		boxed := f.Money("box_price", &b.BoxPrice, 0)
		if boxed != (b.Box > 0) {
			f.Fault(text.CodeConflict, "box", "box and box_price go together: how many a box holds, and what it costs")
		}
		f.Money("nut_price", &b.NutPrice, 0)
		f.Money("washer_price", &b.FlatPrice, 0)
		f.Money("lock_price", &b.LockPrice, 0)
		f.Done()
		rd.job.Bolts = append(rd.job.Bolts, b)
	}
}

// stack reads the plies that a bolt goes through: lengths, with words behind them.
func (rd *reader) stack(f *text.Fields) (out []Ply) {
	const like = `["1/4", "1/8 rubber"]`
	v := f.Take("stack")
	if v == nil {
		f.Fault(text.CodeMissing, "stack", "stack is missing: the thicknesses between head and nut, such as %s", like)
		return nil
	}
	for _, it := range f.ListOf(v, "stack", 1, 20, like) {
		p := Ply{}
		if it.Kind == text.String {
			t := trimmed(it.Text)
			if i := strings.IndexAny(t, " \t"); i > 0 {
				// "1/4 tab" is a length and a word, "1 1/4 tab" a mixed number and a word.
				words := strings.Fields(t)
				n := 1
				for n < len(words) && strings.IndexAny(words[n][:1], "0123456789") == 0 {
					n++
				}
				if n < len(words) && (words[n] == "in" || words[n] == "mm" || words[n] == "cm") {
					n++
				}
				l, err := measure.ParseLength(strings.Join(words[:n], " "), it.Doc().Unit)
				if err != nil || l <= 0 {
					f.FaultAt(it, text.CodeValue, "stack", "%s does not begin with a thickness; write %s", text.Short(it.Raw(), 40), like)
					continue
				}
				out = append(out, Ply{l, strings.Join(words[n:], " ")})
				continue
			}
		}
		l, ok := f.LengthOf(it, "stack", text.Positive)
		if p.Thick = l; ok {
			out = append(out, p)
		}
	}
	return out
}
