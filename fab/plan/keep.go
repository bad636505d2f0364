package plan

import (
	"fmt"
	"slices"
	"strings"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/work"
)

// MarkSetting begins the names of the settings under which the record keeps the mark of a piece, by what the piece is.
const MarkSetting = "mark of: "

// Identity tells what a piece is, whatever it is called: section, length, ends.
func Identity(x *piece.Piece) string {
	return fmt.Sprintf("%s %d %s", x.Section, int64(x.Length), ends3(x))
}

// letter is the mark without the hand behind it.
func letter(x *piece.Piece) string {
	if x.Mirror != "" {
		return strings.TrimSuffix(strings.TrimSuffix(x.Mark, "-L"), "-R")
	}
	return x.Mark
}

// is tells whether a recorded piece is one of these. What is cut to fit may have come out longer or shorter.
func is(key string, x *piece.Piece) bool {
	recorded, _, _ := strings.Cut(key, "|")
	if recorded == "" || recorded == Identity(x) {
		return true
	}
	if x.Over == 0 && x.CutFit == "" {
		return false
	}
	var length int64
	rest, ok := strings.CutPrefix(recorded, x.Section+" ")
	if n, err := fmt.Sscan(rest, &length); !ok || n != 1 || err != nil {
		return false
	}
	_, ends, _ := strings.Cut(rest, " ")
	return ends == ends3(x) && (measure.Length(length)-x.Length).Abs() <= x.Over+2*measure.Inch
}

// keepMarks gives the letters that pieces are to have in place of those of their order, so that a piece keeps its mark when an
// edit puts others before it: a mark that stands on cut steel belongs to what was cut, for ever; any other stays with its
// piece as long as it can. orphans are marks on steel that fits nothing any more; no new piece takes them.
func keepMarks(pieces []piece.Piece, j *job.Job, s *work.State, known map[string]string) (as map[string]string, orphans []string) {
	given := map[string]bool{}
	for i := range j.Pieces {
		if m := j.Pieces[i].Mark; m != "" {
			given[m] = true
		}
	}
	var order []string
	of := map[string][]*piece.Piece{}
	for i := range pieces {
		l := letter(&pieces[i])
		if given[l] {
			continue
		}
		if of[l] == nil {
			order = append(order, l)
		}
		of[l] = append(of[l], &pieces[i])
	}
	as, taken := map[string]string{}, map[string]bool{}
	for m := range given {
		taken[m] = true
	}
	take := func(from, to string) { as[from], taken[to] = to, true }
	matches := func(l, key string) bool {
		return slices.ContainsFunc(of[l], func(x *piece.Piece) bool { return is(key, x) })
	}
	if s != nil {
		keys := map[string]string{}
		var marks []string
		for _, p := range s.Pieces() {
			m := strings.TrimSuffix(strings.TrimSuffix(p.Mark, "-L"), "-R")
			if _, seen := keys[m]; p.Spoiled || seen || given[p.Mark] || given[m] {
				continue
			}
			keys[m] = p.Key
			marks = append(marks, m)
		}
		slices.Sort(marks)
		// Those that are called so already come first, so that two alike do not change places.
		for _, m := range marks {
			if matches(m, keys[m]) {
				take(m, m)
			}
		}
		for _, m := range marks {
			if taken[m] {
				continue
			}
			taken[m] = true
			k := slices.IndexFunc(order, func(l string) bool { return as[l] == "" && matches(l, keys[m]) })
			if k < 0 {
				orphans = append(orphans, m)
				continue
			}
			take(order[k], m)
		}
	}
	for _, l := range order {
		if as[l] != "" {
			continue
		}
		id := Identity(of[l][0])
		m := known[id]
		if m == "" && s != nil {
			m, _ = s.Setting(MarkSetting + id)
		}
		if m != "" && !taken[m] {
			take(l, m)
		}
	}
	next := 0
	for _, l := range order {
		if as[l] != "" {
			continue
		}
		if !taken[l] {
			take(l, l)
			continue
		}
		for taken[piece.Letters(next)] || of[piece.Letters(next)] != nil && as[piece.Letters(next)] == "" {
			next++
		}
		take(l, piece.Letters(next))
	}
	for l, m := range as {
		if l == m {
			delete(as, l)
		}
	}
	return as, orphans
}

// MarksOf gives the mark of each piece of a plan by what it is, for the next plan.
func (p *Plan) MarksOf() map[string]string {
	known := map[string]string{}
	for i := range p.Pieces {
		x := &p.Pieces[i]
		if id := Identity(x); known[id] == "" {
			known[id] = letter(x)
		}
	}
	return known
}
