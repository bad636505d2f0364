package work

import (
	"fmt"
	"slices"
	"strconv"
)

// ID names an event for good: who wrote it, and which of the writer's events it is.
type ID struct {
	Writer uint64
	Number uint64
}

// String gives the ID as 16 hexadecimal digits, a hyphen and a decimal number.
func (id ID) String() string { return fmt.Sprintf("%016x-%d", id.Writer, id.Number) }

// Zero tells whether the ID names nothing.
func (id ID) Zero() bool { return id == ID{} }

// parseID reads what String prints, and nothing else.
func parseID(b []byte) (id ID, ok bool) {
	if len(b) < 18 || b[16] != '-' {
		return ID{}, false
	}
	for _, c := range b[:16] {
		switch {
		case c >= '0' && c <= '9':
			id.Writer = id.Writer<<4 | uint64(c-'0')
		case c >= 'a' && c <= 'f':
			id.Writer = id.Writer<<4 | uint64(c-'a'+10)
		default:
			return ID{}, false
		}
	}
	digits := b[17:]
	if digits[0] == '0' && len(digits) > 1 {
		return ID{}, false
	}
	if len(digits) > 19 { // may be more than 64 bits hold
		n, err := strconv.ParseUint(string(digits), 10, 64)
		id.Number = n
		return id, err == nil
	}
	for _, c := range digits {
		if c < '0' || c > '9' {
			return ID{}, false
		}
		id.Number = id.Number*10 + uint64(c-'0')
	}
	return id, true
}

// ParseID reads an ID as String prints it.
func ParseID(s string) (ID, error) {
	id, ok := parseID([]byte(s))
	if !ok {
		return ID{}, fmt.Errorf("%.40q is not the ID of an event, which looks like 00c0ffee00c0ffee-17", s)
	}
	return id, nil
}

// IDs is a set of IDs. A writer counts its events, so its numbers are nearly always one run,
// and the set stays small however many events it holds. The zero value is an empty set.
type IDs struct {
	runs map[uint64]*runs
	last *runs // of the writer that was added to last
	who  uint64
}

type runs []run

type run struct{ from, to uint64 } // both included

func (s *IDs) of(writer uint64) *runs {
	if s.last != nil && s.who == writer {
		return s.last
	}
	return s.runs[writer]
}

// Add puts an ID into the set and reports whether it was new.
func (s *IDs) Add(id ID) bool {
	p := s.of(id.Writer)
	if p == nil {
		if s.runs == nil {
			s.runs = map[uint64]*runs{}
		}
		p = new(runs)
		s.runs[id.Writer] = p
	}
	s.last, s.who = p, id.Writer
	rs := *p
	if n := len(rs); n > 0 && rs[n-1].to+1 == id.Number && id.Number != 0 { // the common case
		rs[n-1].to++
		return true
	}
	i, found := rs.find(id.Number)
	if found {
		return false
	}
	before := i > 0 && rs[i-1].to+1 == id.Number
	after := i < len(rs) && rs[i].from-1 == id.Number
	switch {
	case before && after:
		rs[i-1].to = rs[i].to
		rs = slices.Delete(rs, i, i+1)
	case before:
		rs[i-1].to = id.Number
	case after:
		rs[i].from = id.Number
	default:
		rs = slices.Insert(rs, i, run{id.Number, id.Number})
	}
	*p = rs
	return true
}

// Has tells whether the ID is in the set.
func (s *IDs) Has(id ID) bool {
	p := s.of(id.Writer)
	if p == nil {
		return false
	}
	_, found := p.find(id.Number)
	return found
}

// Last gives the highest number of a writer in the set, 0 where there is none.
func (s *IDs) Last(writer uint64) uint64 {
	if p := s.of(writer); p != nil && len(*p) > 0 {
		return (*p)[len(*p)-1].to
	}
	return 0
}

// find gives the run that holds n, or the place where a run that begins at n belongs.
func (rs runs) find(n uint64) (int, bool) {
	return slices.BinarySearchFunc(rs, n, func(r run, n uint64) int {
		switch {
		case r.to < n:
			return -1
		case r.from > n:
			return 1
		}
		return 0
	})
}

// clone copies the set.
func (s *IDs) clone() IDs {
	c := IDs{runs: make(map[uint64]*runs, len(s.runs))}
	for w, p := range s.runs {
		rs := slices.Clone(*p)
		c.runs[w] = &rs
	}
	return c
}
