package main

import (
	"bufio"
	"cmp"
	"fmt"
	"os"
	"slices"
	"strings"

	"bench.example/soapstone/fab/nest/cutstock"
)

// model is an integer program: least sum of cost, rows between lo and hi, whole variables from 0 to most.
type model struct {
	cost []int64
	most []int64
	rows []row
}

type row struct {
	lo, hi int64 // hi < lo: no upper end
	col    []int
	val    []int64
}

func (m *model) variable(cost, most int64) int {
	m.cost, m.most = append(m.cost, cost), append(m.most, most)
	return len(m.cost) - 1
}

func (r *row) add(col int, val int64) { r.col, r.val = append(r.col, col), append(r.val, val) }

// maxColumns bounds the variables of a model.
const maxColumns = 400_000

// build makes the model of the form; nil and why where it would be too large.
func build(form string, p cutstock.Problem) (*model, string) {
	p = merged(p)
	switch form {
	case "arcflow":
		return arcflow(p)
	case "patterns":
		return patterns(p)
	case "assign":
		return assign(p)
	}
	return nil, "no such model"
}

// merged gathers equal pieces and sorts them by falling size, and sticks by falling length.
func merged(p cutstock.Problem) cutstock.Problem {
	var out cutstock.Problem
	demand := map[int64]int{}
	for _, it := range p.Items {
		demand[it.Size] += it.Demand
	}
	for size, n := range demand {
		out.Items = append(out.Items, cutstock.Item{Size: size, Demand: n})
	}
	slices.SortFunc(out.Items, func(a, b cutstock.Item) int { return cmp.Compare(b.Size, a.Size) })
	out.Stocks = slices.Clone(p.Stocks)
	slices.SortStableFunc(out.Stocks, func(a, b cutstock.Stock) int { return cmp.Compare(b.Length, a.Length) })
	return out
}

func pieces(p cutstock.Problem) (n int64) {
	for _, it := range p.Items {
		n += int64(it.Demand)
	}
	return n
}

func most(s cutstock.Stock, pieces int64) int64 {
	if s.Limit < 0 {
		return pieces
	}
	return min(int64(s.Limit), pieces)
}

// arcflow is the model of Valério de Carvalho (Ann. Oper. Res. 86, 1999) with several stick lengths: a stick is a path from
// 0 to its length over arcs as long as pieces, longest first and no more of a kind than are wanted; what is lost is an arc
// to the next node. Nodes that no such path reaches are left out.
func arcflow(p cutstock.Problem) (*model, string) {
	wide := p.Stocks[0].Length
	reached := make([]bool, wide+1)
	reached[0] = true
	type arc struct{ from, to, item int64 }
	var arcs []arc
	for i, it := range p.Items {
		left := make([]int, wide+1) // copies that may still follow, where the node was reached by this kind
		grown := slices.Clone(reached)
		for v := int64(0); v+it.Size <= wide; v++ {
			n := left[v]
			if reached[v] {
				n = it.Demand
			}
			if n == 0 {
				continue
			}
			to := v + it.Size
			grown[to] = true
			left[to] = max(left[to], n-1)
			arcs = append(arcs, arc{v, to, int64(i)})
		}
		reached = grown
		if len(arcs) > maxColumns {
			return nil, "too many arcs"
		}
	}
	for _, s := range p.Stocks {
		reached[s.Length] = true
	}
	at := make([]int, wide+1) // row of a node
	m := &model{}
	m.rows = make([]row, len(p.Items))
	for i, it := range p.Items {
		m.rows[i] = row{lo: int64(it.Demand), hi: int64(it.Demand)}
	}
	last := int64(-1)
	all := pieces(p)
	for v := int64(0); v <= wide; v++ {
		if !reached[v] {
			continue
		}
		at[v] = len(m.rows)
		m.rows = append(m.rows, row{}) // in - out = 0
		if last >= 0 && v > p.Items[len(p.Items)-1].Size {
			x := m.variable(0, all)
			m.rows[at[last]].add(x, -1)
			m.rows[at[v]].add(x, 1)
		}
		last = v
	}
	for _, a := range arcs {
		x := m.variable(0, int64(p.Items[a.item].Demand))
		m.rows[at[a.from]].add(x, -1)
		m.rows[at[a.to]].add(x, 1)
		m.rows[a.item].add(x, 1)
	}
	for _, s := range p.Stocks {
		z := m.variable(s.Cost, most(s, all))
		m.rows[at[0]].add(z, 1)
		m.rows[at[s.Length]].add(z, -1)
	}
	return m, ""
}

// patterns is the covering model of Gilmore and Gomory with every maximal filling of every stick written out: exact, where
// they are not too many.
func patterns(p cutstock.Problem) (*model, string) {
	const limit = 100_000
	m := &model{rows: make([]row, len(p.Items))}
	all := pieces(p)
	for i, it := range p.Items {
		m.rows[i] = row{lo: int64(it.Demand), hi: int64(it.Demand) - 1}
		m.rows[i].hi = m.rows[i].lo - 1
	}
	for _, s := range p.Stocks {
		use := row{lo: 0, hi: most(s, all)}
		n := make([]int, len(p.Items))
		var fill func(i int, room int64) bool
		fill = func(i int, room int64) bool {
			if i == len(p.Items) {
				for k, it := range p.Items {
					if n[k] < it.Demand && it.Size <= room {
						return true // not maximal
					}
				}
				if len(m.cost) >= limit {
					return false
				}
				x := m.variable(s.Cost, most(s, all))
				for k, c := range n {
					if c > 0 {
						m.rows[k].add(x, int64(c))
					}
				}
				use.add(x, 1)
				return true
			}
			for c := min(int64(p.Items[i].Demand), room/p.Items[i].Size); c >= 0; c-- {
				n[i] = int(c)
				if !fill(i+1, room-c*p.Items[i].Size) {
					return false
				}
			}
			n[i] = 0
			return true
		}
		if !fill(0, s.Length) {
			return nil, "more than 100,000 patterns"
		}
		if s.Limit >= 0 {
			m.rows = append(m.rows, use)
		}
	}
	return m, ""
}

// assign is the textbook model: how many of each kind on each single stick; equal sticks are used in order.
func assign(p cutstock.Problem) (*model, string) {
	m := &model{rows: make([]row, len(p.Items))}
	for i, it := range p.Items {
		m.rows[i] = row{lo: int64(it.Demand), hi: int64(it.Demand)}
	}
	volume := int64(0)
	for _, it := range p.Items {
		volume += it.Size * int64(it.Demand)
	}
	for _, s := range p.Stocks {
		// Two sticks less than half full would be one, so no more than this are needed.
		count := min(most(s, pieces(p)), 2*(volume/s.Length+1))
		before := -1
		for range count {
			y := m.variable(s.Cost, 1)
			fill := row{lo: 0, hi: -1}
			fill.add(y, s.Length)
			for i, it := range p.Items {
				if it.Size <= s.Length {
					x := m.variable(0, min(int64(it.Demand), s.Length/it.Size))
					fill.add(x, -it.Size)
					m.rows[i].add(x, 1)
				}
			}
			m.rows = append(m.rows, fill)
			if before >= 0 {
				order := row{lo: 0, hi: -1}
				order.add(before, 1)
				order.add(y, -1)
				m.rows = append(m.rows, order)
			}
			before = y
		}
	}
	return m, ""
}

// write puts the model into path.lp (the common LP text) and path.txt (plain numbers for milp.py).
func (m *model) write(path string) error {
	f, err := os.Create(path + ".lp")
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	term := func(v int64, x int) string {
		if v < 0 {
			return fmt.Sprintf(" - %d x%d\n", -v, x)
		}
		return fmt.Sprintf(" + %d x%d\n", v, x)
	}
	fmt.Fprintln(w, "Minimize\n obj:")
	for x, c := range m.cost {
		if c != 0 {
			fmt.Fprint(w, term(c, x))
		}
	}
	fmt.Fprintln(w, "Subject To")
	for i, r := range m.rows {
		var b strings.Builder
		for k, x := range r.col {
			b.WriteString(term(r.val[k], x))
		}
		switch {
		case len(r.col) == 0:
		case r.lo == r.hi:
			fmt.Fprintf(w, " r%d:\n%s = %d\n", i, b.String(), r.lo)
		case r.hi < r.lo:
			fmt.Fprintf(w, " r%d:\n%s >= %d\n", i, b.String(), r.lo)
		default:
			fmt.Fprintf(w, " r%d:\n%s <= %d\n", i, b.String(), r.hi)
		}
	}
	fmt.Fprintln(w, "Bounds")
	for x, n := range m.most {
		fmt.Fprintf(w, " 0 <= x%d <= %d\n", x, n)
	}
	fmt.Fprintln(w, "General")
	for x := range m.cost {
		fmt.Fprintf(w, " x%d\n", x)
	}
	fmt.Fprintln(w, "End")
	if err := w.Flush(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if f, err = os.Create(path + ".txt"); err != nil {
		return err
	}
	w = bufio.NewWriter(f)
	fmt.Fprintln(w, len(m.cost), len(m.rows))
	for x := range m.cost {
		fmt.Fprintln(w, m.cost[x], m.most[x])
	}
	for _, r := range m.rows {
		fmt.Fprint(w, r.lo, " ", r.hi, " ", len(r.col))
		for k, x := range r.col {
			fmt.Fprint(w, " ", x, " ", r.val[k])
		}
		fmt.Fprintln(w)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}
