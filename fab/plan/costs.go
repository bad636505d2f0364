package plan

import (
	"fmt"
	"math"

	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/figure"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/weld"
)

// costs gathers what a lot costs before overhead and profit.
func (p *Plan) costs(l *lot, h price.Hours) price.Costs {
	c := &costing{p: p, l: l, cur: p.Job.Currency}
	c.out.Frames, c.out.Hours = l.n, h
	c.steel()
	c.goods()
	c.consumables(h)
	c.paint()
	q := &p.Job.Quote
	if q.Sundries > 0 {
		c.add(price.Sundries, "sundries", fmt.Sprintf("%d x", l.n), price.Product(q.Sundries, int64(l.n), 1), "s * n", shopPrice,
			figure.In("s", "for a frame", q.Sundries.Float(), c.cur, "[quote] sundries"), figure.In("n", "frames", float64(l.n), "", ""))
	}
	if q.Delivery > 0 {
		c.add(price.Delivery, "delivery", "once", q.Delivery.Cents(), "d", shopPrice, figure.In("d", "for the job", q.Delivery.Float(), c.cur, "[quote] delivery"))
	}
	if p.Job.Labour.Rate == 0 {
		c.out.Unpriced = append(c.out.Unpriced, "hours ([labour] rate)")
	}
	return c.out
}

type costing struct {
	p   *Plan
	l   *lot
	cur string
	out price.Costs
}

var shopPrice = figure.Source{Kind: figure.Shop, Text: "prices of the job, the shop file or the price book"}

func (c *costing) add(k price.Kind, name, qty string, cost measure.Money, formula string, src figure.Source, in ...figure.Input) {
	if cost == 0 {
		return
	}
	f := figure.Found("price.line", name, cost.Float(), c.cur, formula, src, in...).RoundedTo(0.005+1e-9, "to the cent, halves away from zero")
	c.out.Lines = append(c.out.Lines, price.Line{Kind: k, Name: name, Qty: qty, Cost: cost, Working: f})
}

func (c *costing) missing(format string, args ...any) {
	c.out.Unpriced = append(c.out.Unpriced, fmt.Sprintf(format, args...))
}

// stickUse is what is taken from the sticks of one length of a section.
type stickUse struct {
	count int
	whole measure.Length // of all of them
	kept  measure.Length // drops worth keeping
}

// steel charges the sticks: as bought, with drops credited, or by the part used.
func (c *costing) steel() {
	p, q := c.p, &c.p.Job.Quote
	yard := 0
	for i := range c.l.nests {
		sn := &c.l.nests[i]
		use := make([]stickUse, len(sn.Problem.Sticks))
		for _, u := range sn.Nest.Used {
			x := &use[u.Stick]
			x.count++
			x.whole += sn.Problem.Sticks[u.Stick].Length
			x.kept += keptOf(u, p.Job.Saw.Keep)
			yard += len(u.Partings())
		}
		var new nest.Stick // the cheapest by the length, for what comes from the rack
		priced := false
		for _, st := range sn.Problem.Sticks {
			if !st.OnHand && st.Price > 0 && (!priced || int64(st.Price)*int64(new.Length/1000) < int64(new.Price)*int64(st.Length/1000)) {
				new, priced = st, true
			}
		}
		for k, x := range use {
			if x.count == 0 {
				continue
			}
			st := sn.Problem.Sticks[k]
			switch {
			case st.OnHand && st.Price == 0:
				c.rack(sn.Section, x, new, priced)
			case st.Price == 0:
				c.missing("%d sticks of %s", x.count, sn.Section)
			default:
				c.sticks(sn.Section, st, x, q)
			}
		}
	}
	if w := p.Job.Saw.YardCut; yard > 0 && w > 0 {
		c.add(price.Steel, "cuts by the yard", fmt.Sprintf("%d", yard), price.Product(w, int64(yard), 1), "n * c", shopPrice, figure.In("n", "cuts", float64(yard), "", "nest"),
			figure.In("c", "charge for one", w.Float(), c.cur, "[saw] yard_cut"))
	}
}

// keptOf gives the length of the drops that go back on the rack. A saw without keep puts none back.
func keptOf(u nest.Used, keep measure.Length) measure.Length {
	if keep <= 0 {
		return 0
	}
	var sum measure.Length
	if len(u.Drops) > 0 {
		for _, d := range u.Drops {
			sum += d
		}
		return sum
	}
	if u.Drop >= keep {
		return u.Drop
	}
	return 0
}

func (c *costing) sticks(section string, st nest.Stick, x stickUse, q *job.Quote) {
	each := c.p.paidFor(section, st)
	tape := c.p.Job.Tape
	name := fmt.Sprintf("%s, %s", section, tape.PrintLong(st.Length))
	n := figure.In("n", "sticks", float64(x.count), "", "nest")
	pr := figure.In("p", "price of one", each.Float(), c.cur, "[section."+section+"], the price book or the receipt")
	kept := figure.In("k", "drops worth keeping", x.kept.MM(), "mm", "nest, [saw] keep")
	long := figure.In("L", "length of one", st.Length.MM(), "mm", "nest")
	if q.SteelUsed {
		used := x.whole - x.kept
		c.add(price.Steel, name, fmt.Sprintf("%s used of %d", tape.PrintLong(used), x.count), price.Product(each, int64(used), int64(st.Length)), "p * (n * L - k) / L", shopPrice, pr, n, long, kept)
		return
	}
	c.add(price.Steel, name, fmt.Sprintf("%d", x.count), price.Product(each, int64(x.count), 1), "n * p", shopPrice, n, pr)
	if q.DropValue > 0 && x.kept > 0 {
		share := price.ShareOf(q.DropValue)
		// The credit of a length is rounded once: share in ten-thousandths keeps the product within whole numbers.
		credit := price.Product(each, int64(x.kept)/1000*(int64(share)/100_000), int64(st.Length)/1000*10_000)
		c.add(price.Credit, "drops of "+name, tape.PrintLong(x.kept), -credit, "-s * p * k / L", shopPrice, figure.In("s", "share credited", float64(int64(share)/100_000)/10_000, "", "[quote] drop_value"), pr, kept, long)
	}
}

// rack charges steel from the shop's own rack, by the part used, with a share of what it costs new.
func (c *costing) rack(section string, x stickUse, new nest.Stick, priced bool) {
	share := price.ShareOf(c.p.Job.Quote.OnHand)
	used := x.whole - x.kept
	if share == 0 || used <= 0 {
		return
	}
	if !priced {
		c.missing("%s of %s from the rack", c.p.Job.Tape.PrintLong(used), section)
		return
	}
	cost := price.Product(new.Price, int64(used)/1000*(int64(share)/100_000), int64(new.Length)/1000*10_000)
	c.add(price.Steel, section+" from the rack", c.p.Job.Tape.PrintLong(used), cost, "s * p * u / L", shopPrice, figure.In("s", "share of the new price", float64(int64(share)/100_000)/10_000, "", "[quote] on_hand"),
		figure.In("p", "price of a stick", new.Price.Float(), c.cur, "[section."+section+"]"), figure.In("u", "length used", used.MM(), "mm", "nest"), figure.In("L", "length of a stick", new.Length.MM(), "mm", ""))
}

// paidFor gives what a stick costs: what the receipt says, where sticks of this length came in, else the planned price.
func (p *Plan) paidFor(section string, st nest.Stick) measure.Money {
	for _, b := range p.Received {
		if b.Section == section && b.Length == st.Length && b.Qty > 0 && b.Cost > 0 {
			return price.Product(b.Cost, 1, int64(b.Qty))
		}
	}
	return st.Price
}

// goods charges plates, bought parts and hardware.
func (c *costing) goods() {
	p, n := c.p, int64(c.l.n)
	for i := range p.Job.Plates {
		x := &p.Job.Plates[i]
		qty := int64(0)
		for k := range p.Frame.Plates {
			if p.Frame.Plates[k].Name == x.Name {
				qty += int64(max(1, p.Frame.Plates[k].Qty))
			}
		}
		if qty *= n; qty == 0 {
			continue
		}
		if x.Price == 0 {
			c.missing("%d plates %s", qty, x.Name)
			continue
		}
		c.counted(price.Plate, x.Name, qty, x.Price, "[[plate]] price")
	}
	for i := range p.Job.Items {
		x := &p.Job.Items[i]
		if !x.Priced && x.Price == 0 {
			c.missing("%d %s", int64(x.Qty)*n, x.Name)
			continue
		}
		c.counted(price.Item, x.Name, int64(x.Qty)*n, x.Price, "[[item]] price, or the price book")
	}
	for i := range p.Bolts {
		for _, b := range p.Bolts[i].Buy {
			if !b.Priced {
				c.missing("%d %s", int64(b.Qty)*n, b.Name)
				continue
			}
			c.add(price.Hardware, b.Name, fmt.Sprintf("%d", int64(b.Qty)*n), price.Product(b.Price, n, 1), "n * p", shopPrice, figure.In("n", "frames", float64(n), "", ""),
				figure.In("p", fmt.Sprintf("%d of them, the cheapest way", b.Qty), b.Price.Float(), c.cur, "[[bolts]]"))
		}
	}
}

func (c *costing) counted(k price.Kind, name string, qty int64, each measure.Money, from string) {
	c.add(k, name, fmt.Sprintf("%d", qty), price.Product(each, qty, 1), "n * p", shopPrice, figure.In("n", "pieces", float64(qty), "", ""), figure.In("p", "price of one", each.Float(), c.cur, from))
}

// part charges the part used of something that comes in packs: a spool, a bottle, a blade.
func (c *costing) part(name, qty string, pack measure.Money, used, whole float64, unit, usedFrom, packFrom string) {
	if used <= 0 || whole <= 0 || pack <= 0 {
		return
	}
	// Thousandths of the unit: milligrams, millilitres; what is used is known far less well.
	u, w := int64(math.Round(math.Min(used*1000, 1e12))), int64(math.Max(1, math.Round(whole*1000)))
	c.add(price.Consumable, name, qty, price.Product(pack, u, w), "p * u / w", shopPrice, figure.In("p", "price of a pack", pack.Float(), c.cur, packFrom),
		figure.In("u", "used", float64(u)/1000, unit, usedFrom), figure.In("w", "in a pack", float64(w)/1000, unit, packFrom))
}

// consumables charges what is used up, by the part used.
func (c *costing) consumables(h price.Hours) {
	p, q, n := c.p, &c.p.Job.Quote, float64(c.l.n)
	if w := p.Weld; w != nil {
		grams := n * w.WireKG * 1000
		name := "wire"
		if w.Process.Rods {
			name = "rods"
		}
		c.part(name, fmt.Sprintf("%.0f g", grams), q.SpoolPrice, grams, q.Spool*1000, "g", "wire of the weld plan, in grams", "[quote] spool, spool_price")
		if w.Process.Gas {
			litres := q.GasLMin / 60 * (n*w.Schedule.ArcTime.Seconds() + w.TestBead.Seconds())
			c.part("shielding gas", fmt.Sprintf("%.0f l", litres), q.BottleCost, litres, q.BottleL, "l", "[quote] gas_flow, arc time", "[quote] bottle, bottle_price")
		}
	}
	area := 0.0
	for _, s := range c.l.queue.Steps {
		if s.Op != cut.Trim && s.Op != cut.Cut && s.Op != cut.Prove || s.Bundle >= len(c.l.bundles) {
			continue
		}
		lean := math.Cos(s.SwingDeg*math.Pi/180) * math.Cos(s.TiltDeg*math.Pi/180)
		area += c.l.bundles[s.Bundle].AreaMM2 / math.Max(lean, 0.1)
	}
	c.part("saw blade", fmt.Sprintf("%.0f cm2 sawn", area/100), q.BladeCost, area, q.BladeMM2, "mm2", "queue: areas of the cuts", "[quote] blade_area, blade_price")
	c.part("grinding discs", fmt.Sprintf("%.0f min", c.grindS()/60), q.DiscCost, c.grindS(), q.Disc.Seconds(), "s", "joints ground, seams dressed, power tool cleaning", "[quote] disc_time, disc_price")
}

// grindS is the time with a disc on the steel: joints that are ground before welding, seams dressed, SSPC-SP 3 and SP 11.
func (c *costing) grindS() float64 {
	t := 0.0
	if w := c.p.Weld; w != nil {
		for _, x := range w.Docket.Tasks {
			if x.Kind == weld.Grind {
				t += x.Take.Seconds()
			}
		}
		for _, j := range w.Layout.Joints {
			if len(j.Seams) == 0 {
				continue
			}
			if f := w.Layout.Seams[j.Seams[0]].Finish; f == job.Scale || f == job.Primed || f == job.Galvanised {
				t += w.Rates.Prep[f].Seconds()
			}
		}
	}
	t *= float64(c.l.n)
	if s := c.l.paint; s != nil {
		t += s.PowerS
	}
	return t
}

// paint charges whole cans, caps, thinner, galvanising.
func (c *costing) paint() {
	s := c.l.paint
	if s == nil {
		return
	}
	for _, x := range s.Coats {
		for _, b := range x.Cans {
			if b.Price > 0 {
				c.counted(price.PaintKind, x.Name+", "+b.Size, int64(b.Qty), b.Price, "[paint."+x.Key+"] cans")
			}
		}
	}
	if s.Caps > 0 && s.Spec.CapPrice > 0 {
		c.counted(price.PaintKind, "caps and plugs", int64(s.Caps), s.Spec.CapPrice, "[paint] cap_price")
	}
	if s.Thinner > 0 && s.Spec.Thinner > 0 {
		ml := int64(math.Round(s.Thinner * 1000))
		c.add(price.PaintKind, "thinner", fmt.Sprintf("%.2f l", s.Thinner), price.Product(s.Spec.Thinner, ml, 1000), "p * l", shopPrice, figure.In("p", "a litre", s.Spec.Thinner.Float(), c.cur, "[paint] thinner_price"), figure.In("l", "litres", float64(ml)/1000, "l", ""))
	}
	if z := s.Zinc; z != nil && z.Priced {
		g := int64(math.Round(z.SteelKG * float64(c.l.n) * 1000))
		c.add(price.Galvanising, "galvanising", fmt.Sprintf("%.1f kg", float64(g)/1000), price.Product(s.Spec.ZincKG, g, 1000), "p * m", shopPrice, figure.In("p", "a kilogram", s.Spec.ZincKG.Float(), c.cur, "[paint] galvanise_kg"), figure.In("m", "steel", float64(g)/1000, "kg", "mass"))
	}
	c.out.Unpriced = append(c.out.Unpriced, s.Unpriced...)
}
