package plan

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
)

// takeReceipts reads what came from the yard. A receipt of a section that the job does not have any more is told.
func (p *Plan) takeReceipts(s *work.State) {
	if s == nil {
		return
	}
	for _, r := range s.Receipts() {
		if _, ok := p.Job.Section(r.Section); !ok {
			p.add(text.Problem{Code: "receipt", Severity: text.Warning, Message: fmt.Sprintf("%d sticks of %s came, of which this job has no section any more", r.Qty, text.Clean(r.Section))})
			continue
		}
		p.receipts = append(p.receipts, r)
	}
}

// parted tells whether the yard parts sticks of that length, so that they come in parts.
func (p *Plan) parted(length measure.Length) bool {
	return p.Job.Saw.Haul > 0 && length > p.Job.Saw.Haul
}

// came counts the sticks of a length that came, and tells whether the yard has no more of them.
func (p *Plan) came(section string, length measure.Length) (n int, noMore bool) {
	for _, r := range p.receipts {
		if r.Section == section && r.Nominal == length {
			n, noMore = n+r.Qty, noMore || r.NoMore
		}
	}
	return n, noMore
}

// paid is what a stick of that length really cost the last time, 0 where nobody said.
func (p *Plan) paid(section string, length measure.Length) (price measure.Money) {
	for _, r := range p.receipts {
		if r.Section == section && r.Nominal == length && r.Price > 0 {
			price = r.Price
		}
	}
	return price
}

// inShop gives the sticks of a section that came and that nobody has put into the saw yet: they are paid for and are used
// first. Sticks that the yard parted are left out, because they are no whole sticks any more: the nest plans them as it did,
// at what they cost.
func (p *Plan) inShop(section string, lie func(length measure.Length, qty int)) {
	used := p.Done.taken(section, "buy")
	for _, r := range p.receipts {
		if r.Section != section || p.parted(r.Nominal) {
			continue
		}
		qty := r.Qty
		for ; qty > 0 && used[r.Nominal] > 0; qty-- {
			used[r.Nominal]--
		}
		length := r.Nominal
		if r.Length > 0 {
			length = r.Length
		}
		lie(length, qty)
	}
}

// left gives how many sticks of a length may still be bought, where limit (below 0: none) is what there are at the yard in
// all; ok is false where none.
func (p *Plan) left(section string, length measure.Length, limit int) (most int, ok bool) {
	used := p.Done.taken(section, "buy")[length]
	got, noMore := p.came(section, length)
	switch {
	case p.parted(length) && noMore:
		limit = got
	case noMore:
		return 0, false
	}
	if limit < 0 {
		return 0, true
	}
	most = limit - max(used, got)
	if p.parted(length) {
		most = limit - used
	}
	return most, most > 0
}

// billReceipts lists what came as purchases at their true prices, and takes parted sticks that came off the list of what is
// still to be bought.
func (p *Plan) billReceipts() {
	for _, r := range p.receipts {
		if r.Qty == 0 {
			continue
		}
		b := Purchase{Section: r.Section, Length: r.Nominal, Qty: r.Qty, Price: r.Price, Priced: r.Price > 0, Supplier: text.Clean(r.Supplier)}
		if s, ok := p.Job.Section(r.Section); ok && !b.Priced {
			for _, st := range s.Sticks {
				if st.Length == r.Nominal && !b.Priced {
					b.Price, b.Priced = StickPrice(s, p.Sections[r.Section], st), st.Priced || StickPrice(s, p.Sections[r.Section], st) > 0
				}
			}
		}
		b.Cost = b.Price * measure.Money(b.Qty)
		p.Received = append(p.Received, b)
	}
	var rest []Purchase
	spare := map[string]int{}
	for _, b := range p.Buy {
		key := fmt.Sprint(b.Section, "|", b.Length)
		if _, known := spare[key]; !known {
			spare[key] = 0
			if p.parted(b.Length) {
				got, _ := p.came(b.Section, b.Length)
				spare[key] = max(0, got-p.Done.taken(b.Section, "buy")[b.Length])
			}
		}
		n := min(spare[key], b.Qty)
		spare[key] -= n
		b.Qty -= n
		b.Cost = b.Price * measure.Money(b.Qty)
		if n > 0 && len(b.Parts) > b.Qty {
			b.Parts = b.Parts[n:]
		}
		if b.Qty > 0 {
			rest = append(rest, b)
		}
	}
	p.Buy = rest
	p.checkReceipts()
}

// Straightness, twist and walls that the standards allow.
var (
	tubeStraight = figure.Source{Kind: figure.Standard, Text: "ASTM A500/A500M, straightness: 1/8 in. x (feet of length) / 5"}
	barStraight  = figure.Source{Kind: figure.Standard, Text: "ASTM A29/A29M-04, Table A2.10: 6 mm in any 1500 mm (1/4 in. in any 5 ft)"}
	tubeTwist    = figure.Source{Kind: figure.Standard, Text: "ASTM A500/A500M, twist of square and rectangular tube in each 3 ft, by the largest side"}
)

// Bow is the most that a stick may bow by its standard: for tube 1/8 in for each 5 ft (ASTM A500; taken for pipe too, whose
// own standards only ask it to be reasonably straight: common practice), for bars and bar-size shapes 1/4 in in 5 ft (A29).
func Bow(sec steel.Section, length measure.Length) figure.Figure {
	in := figure.In("L", "length of the stick", length.Feet(), "ft", "as bought")
	if hollow(sec) {
		return figure.New("receive.bow", "bow that the standard allows", "in", "L / 5 * 0.125", tubeStraight, in)
	}
	return figure.New("receive.bow", "bow that the standard allows", "in", "L / 5 * 0.25", barStraight, in)
}

func hollow(s steel.Section) bool {
	return s.Shape == steel.RectTube || s.Shape == steel.SquareTube || s.Shape == steel.RoundTube || s.Shape == steel.Pipe
}

// Twist is the most that one corner of a square or rectangular tube may rise over its length (ASTM A500: in each 3 ft, by the
// largest side); ok is false for shapes that the table does not cover.
func Twist(sec steel.Section, length measure.Length) (f figure.Figure, ok bool) {
	if sec.Shape != steel.RectTube && sec.Shape != steel.SquareTube {
		return f, false
	}
	side := max(sec.Depth, sec.Width).Inches()
	per := 0.112
	for _, row := range [][2]float64{{1.5, 0.050}, {2.5, 0.062}, {4, 0.075}, {6, 0.087}, {8, 0.100}} {
		if side <= row[0] {
			per = row[1]
			break
		}
	}
	return figure.New("receive.twist", "twist that the standard allows", "in", "t * L / 3", tubeTwist,
		figure.In("t", "in each 3 ft", per, "in", "table"), figure.In("L", "length of the stick", length.Feet(), "ft", "as bought")), true
}

// sagOf is the bow of a piece cut from a bowed stick: an arc's rise goes with the square of its length.
func sagOf(bow, stick, piece measure.Length) measure.Length {
	r := float64(piece) / float64(stick)
	return measure.Length(math.Round(float64(bow) * r * r))
}

// checkReceipts looks at what was measured on the sticks that came.
func (p *Plan) checkReceipts() {
	for _, r := range p.receipts {
		sec := p.Sections[r.Section]
		name := fmt.Sprintf("%s, %s", text.Clean(r.Section), p.Job.Tape.PrintLong(r.Nominal))
		p.checkWall(r, sec, name)
		length := r.Nominal
		if r.Length > 0 {
			length = r.Length
		}
		if most := Bow(sec, length); r.Bow > 0 {
			over := ""
			if r.Bow.Inches() > most.Value+1e-9 {
				over = fmt.Sprintf("over the %s that %s allows: the yard takes it back; else ", p.Job.Tape.Print(measure.Length(most.Value*float64(measure.Inch))), plainSource(most.Source))
			}
			if s := p.bowed(r, length); over != "" || s != "" {
				p.add(text.Problem{Code: "bow", Severity: text.Caution, Message: fmt.Sprintf("%s came bowed by %s, %scut the short pieces from it. %s", name, p.Job.Tape.Print(r.Bow), over, s)})
			}
		}
		if most, ok := Twist(sec, length); ok && r.Twist.Inches() > most.Value+1e-9 {
			p.add(text.Problem{Code: "twist", Severity: text.Caution, Message: fmt.Sprintf("%s came twisted by %s at one corner, over the %s that %s allows: a frame will not lie flat on it",
				name, p.Job.Tape.Print(r.Twist), p.Job.Tape.Print(measure.Length(most.Value*float64(measure.Inch))), plainSource(most.Source))})
		}
	}
}

func plainSource(s figure.Source) string {
	before, _, _ := strings.Cut(s.Text, ",")
	return before
}

// bowed names the pieces that would show the bow: those that rise by more than half a division of the tape.
func (p *Plan) bowed(r work.Receipt, stick measure.Length) string {
	var parts []string
	for _, x := range p.Pieces {
		if x.Section != r.Section {
			continue
		}
		if s := sagOf(r.Bow, stick, min(x.Length, stick)); 2*s > p.Job.Tape.Division() {
			parts = append(parts, fmt.Sprintf("%s by %s", x.Mark, p.Job.Tape.Print(s)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	if len(parts) > 6 {
		parts = append(parts[:6], "others")
	}
	return "Of it would bow: " + strings.Join(parts, ", ") + "; take these from straight sticks, or bow side out and pull them true when they are tacked"
}

// checkWall compares a measured wall with the nominal one. Weight and stiffness of a thin wall go with it: the caution says
// by how much, and analyses the frame again with it where the job asks for loads.
func (p *Plan) checkWall(r work.Receipt, sec steel.Section, name string) {
	if r.Wall <= 0 || sec.Wall <= 0 || r.Wall >= sec.Wall {
		return
	}
	thin := WithWall(sec, r.Wall)
	full, less := sec.Properties(steel.Nominal), thin.Properties(steel.Nominal)
	share := func(a, b float64) float64 { return (1 - b/a) * 100 }
	off := (1 - float64(r.Wall)/float64(sec.Wall)) * 100
	severity, rule := text.Warning, "within the 10 % that the standards of tube allow"
	if off > 10+1e-9 {
		severity, rule = text.Caution, "more than the 10 % that ASTM A500 and A513 allow: the yard takes it back"
	}
	message := fmt.Sprintf("%s measures %.3f in of wall where %.3f in was bought, %.0f %% less, %s; it is %.0f %% lighter and %.0f %% weaker in bending", name, r.Wall.Inches(), sec.Wall.Inches(), off, rule,
		share(full.MassKGM, less.MassKGM), share(full.SxMM3, less.SxMM3))
	if p.loadModel != nil && p.Loads != nil {
		if t := p.loadModel.Try(r.Section, []steel.Section{thin}); len(t) == 2 && t[0].Err == nil && t[1].Err == nil {
			message += fmt.Sprintf("; reckoned with it, the hardest worked member of the section goes from %.0f %% to %.0f %%", t[0].Utilisation*100, t[1].Utilisation*100)
		}
	}
	p.add(text.Problem{Code: "thin-wall", Severity: severity, Message: message})
}

// WithWall is a section with the wall as measured in place of the nominal one. The wall that strength is reckoned with is
// the measured one too, unless the standard's design wall is thinner still.
func WithWall(sec steel.Section, wall measure.Length) steel.Section {
	sec.InsideRadius = max(0, sec.InsideRadius+sec.Wall-wall)
	sec.Wall, sec.DesignWallMM, sec.Published = wall, math.Min(sec.DesignWallMM, wall.MM()), nil
	sec.WallFrom = "as measured"
	return sec
}
