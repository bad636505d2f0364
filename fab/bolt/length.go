package bolt

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
)

// Washer is a kind of flat washer.
type Washer int

// Kinds of flat washer. Metric bolts know ISO 7089 (SAE, USS) and ISO 7093 (Fender).
const (
	SAE Washer = iota
	USS
	Fender
)

// String gives the trade's word.
func (w Washer) String() string { return [...]string{"SAE flat", "USS flat", "fender"}[w] }

// Nut is a kind of nut.
type Nut int

// Kinds of nut.
const (
	HexNut  Nut = iota
	LockNut     // with a nylon ring
	NoNut       // into a tapped hole or a weld nut: the grip must then hold the depth of thread
)

// String gives the trade's word.
func (n Nut) String() string { return [...]string{"hex nut", "nylon lock nut", "no nut"}[n] }

// Stack is what a bolt passes through.
type Stack struct {
	GripMM float64 // plies clamped: tab, pad, shell
	Flats  int
	Washer Washer
	Locks  int // split lock washers
	Nut    Nut
	NutMM  float64 // thickness of the nut where it is known; 0: by Nut
}

// WasherMM gives the greatest thickness and the outside diameter of a flat washer.
func (s Size) WasherMM(w Washer) (thick, od float64, source figure.Source) {
	if s.Metric {
		r := metricRows[s.row]
		if w == Fender {
			return r.washerMax * 1.25, r.bigOD, figure.Source{Kind: figure.Standard, Text: "ISO 7093, large series (from memory)"}
		}
		return r.washerMax, r.washerOD, figure.Source{Kind: figure.Standard, Text: "ISO 7089, greatest thickness"}
	}
	r := inchRows[s.row]
	switch {
	case w == USS:
		return r.ussMax * inch, r.ussOD * inch, figure.Source{Kind: figure.Standard, Text: "ASME B18.21.1, type A plain washers, wide, greatest thickness"}
	case w == Fender && r.fenderOD > 0:
		return 0.080 * inch, r.fenderOD * inch, figure.Source{Kind: figure.Standard, Text: "ASME B18.21.1, fender washers (from memory)"}
	}
	return r.saeMax * inch, r.saeOD * inch, figure.Source{Kind: figure.Standard, Text: "ASME B18.21.1-2009, SAE flat washers, greatest thickness"}
}

// LockMM gives the thickness of a regular split lock washer.
func (s Size) LockMM() float64 {
	if s.Metric {
		return metricRows[s.row].lock
	}
	return inchRows[s.row].lock * inch
}

// NutMM gives the greatest thickness of a nut.
func (s Size) NutMM(n Nut) float64 {
	t := 0.0
	if s.Metric {
		t = metricRows[s.row].nutMax
	} else {
		t = inchRows[s.row].nutMax * inch
	}
	switch n {
	case LockNut: // about a third higher: ASME B18.16.6 NE and ISO 7040 run 1.2 to 1.4
		return 1.4 * t
	case NoNut:
		return 0
	}
	return t
}

// FlatsMM gives the wrench sizes of nut and head.
func (s Size) FlatsMM() (nut, head float64) {
	if s.Metric {
		f := metricRows[s.row].nutFlats
		return f, f
	}
	r := inchRows[s.row]
	return r.nutFlats * inch, r.headFlats * inch
}

// Bolt is a bolt to buy.
type Bolt struct {
	Need    figure.Figure // least length, mm
	StockMM float64       // next length of the series
	Thread  figure.Figure // length of thread on it, mm
	OutMM   float64       // thread beyond the nut
	Name    string        // "3/8-16 x 3"
	Notes   []string
}

// ProtrudePitches is how far a bolt must stand out of its nut.
const ProtrudePitches = 2

// Length gives the bolt for a stack: grip, washers and nut at their thickest, and two pitches, rounded up to the series
// that shops stock (inch: quarters to 6 in, then halves; metric: 5 mm to 70, 10 mm to 200, then 20 mm). An error where
// the stack makes no sense or the series ends (inch 20 in, metric 500 mm).
func (st Stack) Length(s Size, prefix string) (Bolt, error) {
	if !(st.GripMM > 0) {
		return Bolt{}, fmt.Errorf("the grip is %g mm; it must be more than nothing: add up what lies between head and nut", st.GripMM)
	}
	if st.Flats < 0 || st.Locks < 0 || st.Flats > 20 || st.Locks > 20 {
		return Bolt{}, fmt.Errorf("%d flat and %d lock washers: give between 0 and 20", st.Flats, st.Locks)
	}
	flat, _, wsrc := s.WasherMM(st.Washer)
	nut := st.NutMM
	nutFrom := "as given"
	if nut == 0 {
		nut, nutFrom = s.NutMM(st.Nut), "ASME B18.2.2, greatest thickness"
		if s.Metric {
			nutFrom = "ISO 4032, greatest thickness"
		}
		if st.Nut == LockNut {
			nutFrom = "1.4 times the hex nut"
		}
	}
	out := float64(ProtrudePitches)
	if st.Nut == NoNut && st.NutMM == 0 {
		out, nutFrom = 0, "none"
	}
	b := Bolt{}
	b.Need = figure.New(prefix+"need", "least bolt length under the head", "mm", "grip + nf*tf + nl*tl + nut + x*p",
		figure.Source{Kind: figure.Standard, Text: "Industrial Fasteners Institute technical bulletin (January 2007): at least two pitches beyond the nut; thickest washers and nut"},
		figure.In("grip", "grip", st.GripMM, "mm", ""), figure.In("nf", "flat washers", float64(st.Flats), "", ""), figure.In("tf", st.Washer.String()+" washer", flat, "mm", wsrc.Text),
		figure.In("nl", "lock washers", float64(st.Locks), "", ""), figure.In("tl", "split lock washer", s.LockMM(), "mm", lockFrom(s)),
		figure.In("nut", st.Nut.String(), nut, "mm", nutFrom), figure.In("x", "pitches beyond the nut", out, "", ""), figure.In("p", "pitch", s.PitchMM, "mm", "size "+s.Name))
	stock, ok := StockLength(s, b.Need.Value)
	if !ok {
		return Bolt{}, fmt.Errorf("the stack needs a bolt of %.0f mm, longer than any in the series; use threaded rod", b.Need.Value)
	}
	b.StockMM = stock
	b.OutMM = stock - (b.Need.Value - out*s.PitchMM)
	b.Thread = s.Thread(stock, prefix)
	if s.Metric {
		b.Name = fmt.Sprintf("%s x %g", s.Name, stock)
	} else {
		b.Name = fmt.Sprintf("%s x %s", s.Name, measure.Eighths.Print(measure.FromMM(stock)))
	}
	shank := stock - b.Thread.Value
	if shank > st.GripMM+float64(st.Flats)*flat && st.Nut != NoNut {
		b.Notes = append(b.Notes, fmt.Sprintf("the plain shank (%.1f mm) is longer than the stack: the nut runs out of thread; add washers or take a fully threaded bolt", shank))
	}
	if b.OutMM > 10*s.PitchMM {
		b.Notes = append(b.Notes, fmt.Sprintf("%.0f threads stand out beyond the nut", b.OutMM/s.PitchMM))
	}
	return b, nil
}

func lockFrom(s Size) string {
	if s.Metric {
		return "DIN 127 B (from memory)"
	}
	return "ASME B18.21.1, regular split lock"
}

// StockLength rounds a length up to the series; false beyond its end.
func StockLength(s Size, need float64) (float64, bool) {
	if s.Metric {
		least := 10.0
		step := func(x float64) float64 {
			switch {
			case x < 70:
				return 5
			case x < 200:
				return 10
			}
			return 20
		}
		l := least
		for l < need-1e-6 {
			l += step(l)
		}
		return l, l <= 500
	}
	in := need / inch
	l := math.Ceil(in*4-1e-6) / 4
	if l > 6 {
		l = math.Ceil(in*2-1e-6) / 2
	}
	l = math.Max(l, 0.5)
	return l * inch, l <= 20
}

// Thread gives the length of thread on a bolt of a stock length; the whole length where the bolt is shorter than that.
func (s Size) Thread(lengthMM float64, prefix string) figure.Figure {
	d := figure.In("d", "nominal diameter", s.DiaMM, "mm", "size "+s.Name)
	l := figure.In("L", "bolt length", lengthMM, "mm", "")
	if s.Metric {
		add := 6.0
		if lengthMM > 125 {
			add = 12
		}
		if lengthMM > 200 {
			add = 25
		}
		return figure.New(prefix+"thread", "length of thread", "mm", "min(L, 2*d + a)", figure.Source{Kind: figure.Standard, Text: "ISO 888: 2d+6 to 125 mm, 2d+12 to 200 mm, 2d+25 beyond"},
			d, l, figure.In("a", "addition for this length", add, "mm", ""))
	}
	add := 0.25 * inch
	if lengthMM > 6*inch+1e-6 {
		add = 0.5 * inch
	}
	return figure.New(prefix+"thread", "length of thread", "mm", "min(L, 2*d + a)", figure.Source{Kind: figure.Standard, Text: "ASME B18.2.1: 2D + 1/4 in for bolts up to 6 in, 2D + 1/2 in for longer ones"},
		d, l, figure.In("a", "addition for this length", add, "mm", ""))
}
