package plan

import (
	"cmp"
	"slices"
	"strings"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

// Order is what is bought from one supplier.
type Order struct {
	Supplier string     // "": nobody is named
	Sticks   []Purchase // with Parts where the yard parts them
	Goods    []Goods
	Partings int           // cuts by the yard, in all
	PartCost measure.Money // its charge for them
	Cost     measure.Money // of what is priced, the cuts included
	Unpriced int           // lines without a price
	Old      bool          // a price is old
}

// Goods is something that is bought besides steel.
type Goods struct {
	Name     string
	Qty      int
	Cost     measure.Money // of all
	Priced   bool
	Supplier string
	Date     book.Day
	Old      bool
}

// Orders groups what is to be bought by supplier, by name, what nobody is named for at the end. Sticks come in the order of
// the plan, then goods: items, bolts, nuts and washers, cans of paint.
func (p *Plan) Orders() []Order {
	at := map[string]int{}
	var out []Order
	of := func(supplier string) *Order {
		i, ok := at[supplier]
		if !ok {
			i = len(out)
			at[supplier] = i
			out = append(out, Order{Supplier: supplier})
		}
		return &out[i]
	}
	for _, b := range p.Buy {
		o := of(b.Supplier)
		o.Sticks = append(o.Sticks, b)
		for _, parts := range b.Parts {
			o.Partings += len(parts)
		}
		o.Old = o.Old || b.Old
		if o.Cost += b.Cost; !b.Priced {
			o.Unpriced++
		}
	}
	for _, g := range p.goods() {
		o := of(g.Supplier)
		o.Goods = append(o.Goods, g)
		o.Old = o.Old || g.Old
		if o.Cost += g.Cost; !g.Priced {
			o.Unpriced++
		}
	}
	for i := range out {
		out[i].PartCost = p.Job.Saw.YardCut * measure.Money(out[i].Partings)
		out[i].Cost += out[i].PartCost
	}
	slices.SortStableFunc(out, func(a, b Order) int {
		if (a.Supplier == "") != (b.Supplier == "") {
			return cmp.Compare(b.Supplier, a.Supplier)
		}
		return cmp.Compare(strings.ToLower(a.Supplier), strings.ToLower(b.Supplier))
	})
	return out
}

// goods lists what is bought besides steel, each with the supplier that its price came from.
func (p *Plan) goods() []Goods {
	var out []Goods
	add := func(g Goods) {
		for _, u := range p.Prices {
			if u.What == g.Name {
				g.Supplier, g.Date, g.Old = u.Supplier, u.Date, u.Old
			}
		}
		out = append(out, g)
	}
	for _, x := range p.Job.Items {
		if x.Qty > 0 {
			add(Goods{Name: x.Name, Qty: x.Qty, Cost: (x.Price * measure.Money(x.Qty)).Cents(), Priced: x.Priced})
		}
	}
	for i := range p.Bolts {
		for _, b := range p.Bolts[i].Buy {
			add(Goods{Name: b.Name, Qty: b.Qty, Cost: b.Price, Priced: b.Priced})
		}
	}
	if p.Paint != nil {
		for _, c := range p.Paint.Coats {
			for _, b := range c.Cans {
				add(Goods{Name: c.Name + ", " + b.Size, Qty: b.Qty, Cost: b.Cost, Priced: b.Price > 0})
			}
		}
	}
	return out
}

// OrderJSON is one supplier's order.
type OrderJSON struct {
	Supplier string       `json:"supplier"`
	Sticks   []OrderStick `json:"sticks"`
	Goods    []OrderGoods `json:"goods"`
	YardCuts YardJSON     `json:"yard_cuts"`
	Cost     float64      `json:"cost"`
	Unpriced int          `json:"unpriced"`
	Old      bool         `json:"old"`
}

// OrderStick is a line of an order. PartsMM is, stick by stick, where the yard parts it, from its first end.
type OrderStick struct {
	BuyJSON
	PartsMM [][]float64 `json:"parts_mm"`
}

// OrderGoods is a line of an order that is no steel.
type OrderGoods struct {
	Name      string  `json:"name"`
	Qty       int     `json:"qty"`
	Cost      float64 `json:"cost"`
	Priced    bool    `json:"priced"`
	PriceDate string  `json:"price_date"`
	Old       bool    `json:"old"`
}

// HaulJSON is what the haul limit costs in a section.
type HaulJSON struct {
	Section    string  `json:"section"`
	LimitMM    float64 `json:"limit_mm"`
	Sticks     int     `json:"sticks"`
	Cost       float64 `json:"cost"`
	MaterialMM float64 `json:"material_mm"`
	YardCuts   int     `json:"yard_cuts"`
	FreeCost   float64 `json:"free_cost"` // without the limit
	Proven     bool    `json:"proven"`    // both nests are
	Text       string  `json:"text"`
}

// UsedPrice is a price with its day.
type UsedPrice struct {
	What      string  `json:"what"`
	Each      float64 `json:"each"`
	Supplier  string  `json:"supplier"`
	PriceDate string  `json:"price_date"`
	AgeDays   int     `json:"age_days"`
	Old       bool    `json:"old"`
	Book      bool    `json:"book"`
}

// PricesJSON is the dated prices that the plan reckons with.
type PricesJSON struct {
	Today    string      `json:"today"`
	OldAfter int         `json:"old_after_days"`
	Used     []UsedPrice `json:"used"`
}

func buyJSON(b Purchase) BuyJSON {
	x := BuyJSON{Section: b.Section, StickMM: b.Length.MM(), Qty: b.Qty, Supplier: text.Clean(b.Supplier), PriceDate: b.Date.String(), Old: b.Old, Least: max(1, b.Least)}
	if b.Priced {
		x.UnitPrice, x.Cost = b.Price.Float(), b.Cost.Float()
	}
	return x
}

// buyingJSON fills in everything about buying.
func (p *Plan) buyingJSON(d *Document) {
	d.Prices.Today, d.Prices.OldAfter = p.Today.String(), p.book.Days()
	for _, b := range p.Buy {
		d.Buy = append(d.Buy, buyJSON(b))
	}
	for _, b := range p.Received {
		d.Received = append(d.Received, buyJSON(b))
	}
	for _, u := range p.Prices {
		d.Prices.Used = append(d.Prices.Used, UsedPrice{text.Clean(u.What), u.Each.Float(), text.Clean(u.Supplier), u.Date.String(), u.AgeDays, u.Old, u.Line > 0})
	}
	for _, o := range p.Orders() {
		j := OrderJSON{Supplier: text.Clean(o.Supplier), Sticks: []OrderStick{}, Goods: []OrderGoods{}, YardCuts: YardJSON{o.Partings, o.PartCost.Float()}, Cost: o.Cost.Float(), Unpriced: o.Unpriced, Old: o.Old}
		for _, b := range o.Sticks {
			s := OrderStick{BuyJSON: buyJSON(b), PartsMM: [][]float64{}}
			for _, at := range b.Parts {
				mm := []float64{}
				for _, x := range at {
					mm = append(mm, x.MM())
				}
				s.PartsMM = append(s.PartsMM, mm)
			}
			j.Sticks = append(j.Sticks, s)
		}
		for _, g := range o.Goods {
			j.Goods = append(j.Goods, OrderGoods{text.Clean(g.Name), g.Qty, g.Cost.Float(), g.Priced, g.Date.String(), g.Old})
		}
		d.Orders = append(d.Orders, j)
	}
	for _, h := range p.Haul {
		d.Haul = append(d.Haul, HaulJSON{h.Section, p.Job.Saw.Haul.MM(), h.Sticks, h.Cost.Float(), h.Material.MM(), h.Partings, (h.With.Cost - h.Cost).Float() * priced(h), h.With.Proven && h.Free.Proven, text.Clean(p.HaulWords(h))})
	}
}

func priced(h HaulCost) float64 {
	if h.With.Priced {
		return 1
	}
	return 0
}
