package hold

import (
	"maps"
	"math"
	"slices"
	"strings"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/space"
)

// cluster makes one link of joints that share the end of a member: a leg under a corner is welded to both sides by one end.
func (b *fromFrame) cluster() {
	root := make([]int, len(b.f.Joints))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	at := map[[2]int]int{}
	for ji := range b.f.Joints {
		for _, c := range b.f.Joints[ji].Contacts {
			for k, e := range c.Ends {
				if e < 0 {
					continue
				}
				key := [2]int{c.Members[k], e}
				if o, ok := at[key]; ok {
					x, y := find(o), find(ji)
					root[max(x, y)] = min(x, y)
				} else {
					at[key] = ji
				}
			}
		}
	}
	b.link = make([]int, len(root))
	index := map[int]int{}
	for ji := range root {
		r := find(ji)
		k, ok := index[r]
		if !ok {
			k = len(b.m.Links)
			index[r] = k
			b.m.Links = append(b.m.Links, Link{})
		}
		b.link[ji] = k
		l := &b.m.Links[k]
		q := &b.f.Joints[ji]
		n := float64(len(l.Joints))
		at := vec(q.At)
		for d := range l.At {
			l.At[d] = (l.At[d]*n + at[d]) / (n + 1)
		}
		l.Joints = append(l.Joints, q.ID)
		l.Name = strings.Join(l.Joints, "+")
	}
}

// station is where a joint grips a member.
type station struct {
	link int
	x    float64 // from the first tip
	end  int     // 0, 1: by that end's cut; -1 by its side
}

func (b *fromFrame) stations() [][]station {
	out := make([][]station, len(b.f.Members))
	type sum struct {
		x, area float64
		end     int
	}
	all := make([]map[int]*sum, len(b.m.Links))
	for ji := range b.f.Joints {
		q := &b.f.Joints[ji]
		got := all[b.link[ji]]
		if got == nil {
			got = map[int]*sum{}
			all[b.link[ji]] = got
		}
		for _, c := range q.Contacts {
			if len(c.Outline) == 0 {
				continue
			}
			mid := space.Centroid(c.Outline)
			w := math.Max(c.AreaMM2, 1e-6)
			for k, i := range c.Members {
				s := got[i]
				if s == nil {
					s = &sum{end: -1}
					got[i] = s
				}
				x, _, _ := b.f.Members[i].Local(mid)
				s.x += x * w
				s.area += w
				if c.Ends[k] >= 0 {
					s.end = c.Ends[k]
				}
			}
		}
		for _, i := range q.Members { // a joint without a contact of its own
			if got[i] == nil {
				x, _, _ := b.f.Members[i].Local(q.At)
				got[i] = &sum{x, 1, -1}
			}
		}
	}
	for k, got := range all {
		for _, i := range slices.Sorted(maps.Keys(got)) {
			s := got[i]
			from, to := b.f.Members[i].Tips()
			x := math.Min(math.Max(s.x/s.area-from, 0), to-from)
			out[i] = append(out[i], station{k, x, s.end})
		}
	}
	return out
}

func (b *fromFrame) links(stations [][]station) {
	loose := make([]bool, len(b.m.Links))
	for k := range loose {
		loose[k] = true
	}
	for ji := range b.f.Joints {
		loose[b.link[ji]] = loose[b.link[ji]] && b.f.Joints[ji].Kind == frame.Loose
	}
	for i, st := range stations {
		for _, s := range st {
			l := &b.m.Links[s.link]
			l.Ends = append(l.Ends, LinkEnd{Member: i, AtMM: s.x - b.start[i], Pinned: loose[s.link]})
		}
	}
}
