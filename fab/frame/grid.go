package frame

import (
	"math"
	"sort"

	"bench.example/soapstone/fab/space"
)

// grid is a hash over cubes of space: what stands in one cube may touch. Long members are entered cube by cube along
// their axis, so that a slanting one does not fill its whole box.
type grid struct {
	size  float64
	cells map[[3]int32][]int32
}

// newGrid makes a grid with cubes that suit the members: about as long as the middle one, no smaller than twice the
// largest section.
func newGrid(ms []Member) *grid {
	var lengths []float64
	least := 1.0
	for i := range ms {
		lengths = append(lengths, ms[i].A.Dist(ms[i].B))
		least = max(least, 2*max(ms[i].Section.DepthMM, ms[i].Section.WidthMM))
	}
	sort.Float64s(lengths)
	size := least
	if n := len(lengths); n > 0 {
		var total float64
		for _, l := range lengths {
			total += l
		}
		// No smaller than a twentieth of the mean, so that a few very long members do not fill the table.
		size = max(size, lengths[n/2]/2, total/float64(n)/20)
	}
	return &grid{size, make(map[[3]int32][]int32, 4*len(ms))}
}

func (g *grid) cell(v float64) int32 {
	return int32(max(-2e9, min(2e9, math.Floor(v/g.size))))
}

// walk calls visit for every cube that a member, held by box, may reach.
func (g *grid) walk(m *Member, box space.Box, visit func([3]int32)) {
	from, to := m.Tips()
	wide := math.Hypot(m.Section.DepthMM, m.Section.WidthMM)/2 + 1
	n := max(1, int(math.Ceil((to-from)/g.size)))
	var last space.Box
	for k := range n {
		a := m.A.Along(m.Axis, from+(to-from)*float64(k)/float64(n))
		c := m.A.Along(m.Axis, from+(to-from)*float64(k+1)/float64(n))
		b := space.EmptyBox().Take(a).Take(c).Grown(wide)
		b.Lo = space.Vec{X: max(b.Lo.X, box.Lo.X), Y: max(b.Lo.Y, box.Lo.Y), Z: max(b.Lo.Z, box.Lo.Z)}
		b.Hi = space.Vec{X: min(b.Hi.X, box.Hi.X), Y: min(b.Hi.Y, box.Hi.Y), Z: min(b.Hi.Z, box.Hi.Z)}
		for x := g.cell(b.Lo.X); x <= g.cell(b.Hi.X); x++ {
			for y := g.cell(b.Lo.Y); y <= g.cell(b.Hi.Y); y++ {
				for z := g.cell(b.Lo.Z); z <= g.cell(b.Hi.Z); z++ {
					if k > 0 && x >= g.cell(last.Lo.X) && x <= g.cell(last.Hi.X) && y >= g.cell(last.Lo.Y) && y <= g.cell(last.Hi.Y) &&
						z >= g.cell(last.Lo.Z) && z <= g.cell(last.Hi.Z) {
						continue
					}
					visit([3]int32{x, y, z})
				}
			}
		}
		last = b
	}
}

// pairs calls visit once for each pair i < j of members whose boxes touch, in the order of j, then i.
func (g *grid) pairs(ms []Member, bodies []body, visit func(i, j int)) {
	seen := make([]int32, len(ms)) // the last j for which i was taken
	var found []int
	for j := range ms {
		found = found[:0]
		g.walk(&ms[j], bodies[j].box, func(c [3]int32) {
			list := g.cells[c]
			for _, i := range list {
				if seen[i] != int32(j+1) && int(i) != j {
					seen[i] = int32(j + 1)
					if bodies[i].box.Meets(bodies[j].box) {
						found = append(found, int(i))
					}
				}
			}
			if n := len(list); n == 0 || list[n-1] != int32(j) {
				g.cells[c] = append(list, int32(j))
			}
		})
		sort.Ints(found)
		for _, i := range found {
			visit(i, j)
		}
	}
}

// touching appends to out the members whose box meets a box, each once, in no order that matters.
func (g *grid) touching(out []int, box space.Box, bodies []body) []int {
	for x := g.cell(box.Lo.X); x <= g.cell(box.Hi.X); x++ {
		for y := g.cell(box.Lo.Y); y <= g.cell(box.Hi.Y); y++ {
			for z := g.cell(box.Lo.Z); z <= g.cell(box.Hi.Z); z++ {
			next:
				for _, i := range g.cells[[3]int32{x, y, z}] {
					if !bodies[i].box.Meets(box) {
						continue
					}
					for _, k := range out {
						if k == int(i) {
							continue next
						}
					}
					out = append(out, int(i))
				}
			}
		}
	}
	return out
}

// near gives the members (in order) whose box lies within d of p.
func (g *grid) near(p space.Vec, d float64, bodies []body) []int {
	var out []int
	seen := map[int32]bool{}
	box := space.EmptyBox().Take(p).Grown(d)
	for x := g.cell(box.Lo.X); x <= g.cell(box.Hi.X); x++ {
		for y := g.cell(box.Lo.Y); y <= g.cell(box.Hi.Y); y++ {
			for z := g.cell(box.Lo.Z); z <= g.cell(box.Hi.Z); z++ {
				for _, i := range g.cells[[3]int32{x, y, z}] {
					if !seen[i] && bodies[i].box.Meets(box) {
						seen[i] = true
						out = append(out, int(i))
					}
				}
			}
		}
	}
	sort.Ints(out)
	return out
}
