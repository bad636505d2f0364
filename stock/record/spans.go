package record

import "slices"

// known is the set of IDs that stand in the record. A writer counts its entries, so that a
// writer's numbers are nearly always one run; the set stays small however long the record is.
type known map[uint64][]span

type span struct{ from, to uint64 } // both included

// add puts an ID into the set and reports whether it was new.
func (k known) add(id ID) bool {
	runs := k[id.Writer]
	if n := len(runs); n > 0 && runs[n-1].to+1 == id.Number && id.Number != 0 { // the common case
		runs[n-1].to++
		return true
	}
	i, found := slices.BinarySearchFunc(runs, id.Number, func(s span, n uint64) int {
		switch {
		case s.to < n:
			return -1
		case s.from > n:
			return 1
		}
		return 0
	})
	if found {
		return false
	}
	before := i > 0 && runs[i-1].to+1 == id.Number
	after := i < len(runs) && runs[i].from-1 == id.Number && runs[i].from != 0
	switch {
	case before && after:
		runs[i-1].to = runs[i].to
		runs = slices.Delete(runs, i, i+1)
	case before:
		runs[i-1].to = id.Number
	case after:
		runs[i].from = id.Number
	default:
		runs = slices.Insert(runs, i, span{id.Number, id.Number})
	}
	k[id.Writer] = runs
	return true
}

func (k known) has(id ID) bool {
	for _, s := range k[id.Writer] {
		if s.from <= id.Number && id.Number <= s.to {
			return true
		}
	}
	return false
}
