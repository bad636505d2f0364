package cutstock

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
)

// Item is a kind of piece: Demand pieces of Size.
type Item struct {
	Size   int64
	Demand int
}

// Stock is a kind of stick: its usable Length, what one costs, and how many there are (Limit < 0: as many as wanted).
type Stock struct {
	Length, Cost int64
	Limit        int
}

// Problem asks for all items out of the stocks at least cost.
type Problem struct {
	Items  []Item
	Stocks []Stock
}

// Take is N pieces of Items[Item].
type Take struct{ Item, N int }

// Pattern is one way to fill a stick of Stocks[Stock], used Times times.
type Pattern struct {
	Stock int
	Takes []Take
	Times int
}

// Answer is the best plan so far. Cost is what its sticks cost, Bound a proven lower bound of the least cost; Proven
// says that the two meet. Rounds counts pricing rounds, Nodes the nodes of the search tree.
type Answer struct {
	Patterns []Pattern
	Cost     int64
	Bound    int64
	Proven   bool
	Rounds   int
	Nodes    int
	Pivots   int
}

// Options steer a run. The zero value is right for most callers.
type Options struct {
	// Progress, where set, receives every better plan and every better bound. It is called from the goroutine of
	// Solve and must not keep the answer's slices for writing.
	Progress func(Answer)
	// Nodes ends the search after so many tree nodes (0: no limit). Unlike a deadline it ends every run at the same place.
	Nodes int
	// Rounds ends the search after about so many pricing rounds (0: no limit), which bounds its work closer than Nodes.
	Rounds int
	// Most, above 0, asks whether there is a plan that costs no more: the first one found ends the run, ErrDear says that
	// there is none. The rest of the search is cut off as if a plan one dearer were in hand.
	Most int64
}

var (
	// ErrInput: a number of the problem is out of range.
	ErrInput = errors.New("cutstock: bad input")
	// ErrTooLong: an item is longer than every stock. Wrapped in an *ItemError.
	ErrTooLong = errors.New("longer than every stock")
	// ErrInfeasible: it is proved that the limited stocks cannot hold all items.
	ErrInfeasible = errors.New("cutstock: the stocks cannot hold all items (proved)")
	// ErrDear: it is proved that no plan costs as little as Options.Most.
	ErrDear = errors.New("cutstock: no plan costs so little (proved)")
	// ErrNotFound: no plan was found before the search ended, and none was proved impossible.
	ErrNotFound = errors.New("cutstock: no plan found for the limited stocks before the search ended")
)

// ItemError names the item of the problem (its index) that makes it impossible.
type ItemError struct {
	Item int
	Size int64
	Err  error
}

func (e *ItemError) Error() string {
	return fmt.Sprintf("cutstock: item %d of size %d: %v", e.Item, e.Size, e.Err)
}

func (e *ItemError) Unwrap() error { return e.Err }

const (
	maxTotal  = int64(1) << 60
	maxPieces = 1 << 24
)

// check refuses numbers that the arithmetic could not hold.
func (p Problem) check() error {
	var longest int64 = -1
	total, pieces := uint64(0), 0
	for k, s := range p.Stocks {
		if s.Cost < 0 {
			return fmt.Errorf("%w: stock %d costs %d; it must be 0 or more", ErrInput, k, s.Cost)
		}
		if s.Length > maxTotal || s.Cost > maxTotal {
			return fmt.Errorf("%w: stock %d is out of range (length and cost up to 2^60)", ErrInput, k)
		}
		if s.Limit != 0 && s.Length > longest {
			longest = s.Length
		}
	}
	for i, it := range p.Items {
		if it.Demand < 0 {
			return fmt.Errorf("%w: item %d is wanted %d times", ErrInput, i, it.Demand)
		}
		if it.Demand == 0 {
			continue
		}
		if it.Size <= 0 {
			return fmt.Errorf("%w: item %d has size %d; it must be positive", ErrInput, i, it.Size)
		}
		if it.Size > longest {
			return &ItemError{i, it.Size, ErrTooLong}
		}
		hi, lo := bits.Mul64(uint64(it.Size), uint64(it.Demand))
		if hi != 0 || lo > uint64(maxTotal) || total+lo > uint64(maxTotal) {
			return fmt.Errorf("%w: the items add up to more than 2^60", ErrInput)
		}
		total += lo
		if pieces += it.Demand; pieces > maxPieces {
			return fmt.Errorf("%w: more than %d pieces", ErrInput, maxPieces)
		}
	}
	// A plan uses no more sticks than pieces: its cost must fit.
	all := uint64(0)
	for k, s := range p.Stocks {
		n := pieces
		if s.Limit >= 0 && s.Limit < n {
			n = s.Limit
		}
		if hi, lo := bits.Mul64(uint64(s.Cost), uint64(n)); hi != 0 || lo > uint64(maxTotal) || all+lo > uint64(maxTotal) {
			return fmt.Errorf("%w: %d sticks of stock %d would cost more than 2^60 with the others", ErrInput, n, k)
		} else {
			all += lo
		}
	}
	return nil
}

// Verify recounts an answer against the problem with integers alone: every piece is there, no stick is overfull, no
// limit is passed, the cost is the sticks'. A nil error means that the plan can be cut.
func Verify(p Problem, a Answer) error {
	left := make([]int, len(p.Items))
	for i, it := range p.Items {
		left[i] = it.Demand
	}
	used := make([]int, len(p.Stocks))
	var cost int64
	for n, pt := range a.Patterns {
		if pt.Stock < 0 || pt.Stock >= len(p.Stocks) {
			return fmt.Errorf("cutstock: pattern %d names stock %d", n, pt.Stock)
		}
		if pt.Times <= 0 {
			return fmt.Errorf("cutstock: pattern %d is used %d times", n, pt.Times)
		}
		var sum int64
		for _, t := range pt.Takes {
			if t.Item < 0 || t.Item >= len(p.Items) || t.N <= 0 {
				return fmt.Errorf("cutstock: pattern %d takes %d of item %d", n, t.N, t.Item)
			}
			if int64(t.N) > math.MaxInt64/p.Items[t.Item].Size {
				return fmt.Errorf("cutstock: pattern %d overflows", n)
			}
			sum += int64(t.N) * p.Items[t.Item].Size
			left[t.Item] -= t.N * pt.Times
		}
		if s := p.Stocks[pt.Stock]; sum > s.Length {
			return fmt.Errorf("cutstock: pattern %d fills %d of %d", n, sum, s.Length)
		}
		used[pt.Stock] += pt.Times
		cost += p.Stocks[pt.Stock].Cost * int64(pt.Times)
	}
	for i, n := range left {
		if n != 0 {
			return fmt.Errorf("cutstock: item %d: %d of %d left", i, n, p.Items[i].Demand)
		}
	}
	for k, n := range used {
		if lim := p.Stocks[k].Limit; lim >= 0 && n > lim {
			return fmt.Errorf("cutstock: %d of stock %d used, there are %d", n, k, lim)
		}
	}
	if cost != a.Cost {
		return fmt.Errorf("cutstock: the sticks cost %d, the answer says %d", cost, a.Cost)
	}
	if a.Bound > a.Cost || a.Proven != (a.Bound == a.Cost) {
		return fmt.Errorf("cutstock: bound %d, cost %d, proven %v", a.Bound, a.Cost, a.Proven)
	}
	return nil
}
