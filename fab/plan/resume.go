package plan

import (
	"fmt"
	"math"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/work"
)

// Done is what has been done on the job, as far as it changes what is still to be planned. The zero value is a job on
// which nothing was done.
type Done struct {
	Cut   map[string][]int // good units of each mark, in order
	Rests []Rest           // what is left of sticks in work
	Taken []Taken          // sticks that were taken
}

// Rest is what is left of a stick in work.
type Rest struct {
	Section string
	Stick   string         // its name in the record
	From    measure.Length // where it begins on the stick as it was loaded
	Left    measure.Length
	Fresh   bool       // its first end is fresh from the saw
	Plane   nest.Plane // of that end
}

// Taken is a stick that was taken from the shelf or the bought ones.
type Taken struct {
	Section, Source string
	Nominal         measure.Length
}

// DoneOf reads the state of the work. kerf is the saw's; lean gives how far a plane leans along the stick over the whole
// section (see Plan.Lean).
func DoneOf(s *work.State, kerf measure.Length, lean func(section string, plane nest.Plane) measure.Length) Done {
	d := Done{Cut: map[string][]int{}}
	for _, p := range s.Pieces() {
		if !p.Spoiled && s.IsCut(p.Mark, p.Unit) {
			if n := len(d.Cut[p.Mark]); n == 0 || d.Cut[p.Mark][n-1] != p.Unit {
				d.Cut[p.Mark] = append(d.Cut[p.Mark], p.Unit)
			}
		}
	}
	shelved := map[string]bool{}
	for _, x := range s.Drops() {
		shelved[x.Stick] = true
	}
	for _, st := range s.Sticks() {
		if !st.Loaded {
			continue
		}
		d.Taken = append(d.Taken, Taken{st.Section, st.Source, st.Nominal})
		if shelved[st.Name] {
			continue
		}
		r := Rest{Section: st.Section, Stick: st.Name, Left: st.Length}
		last := measure.Length(0)
		for _, p := range st.Pieces {
			if p.To < last {
				continue
			}
			// The rest's tip: behind a slanted cut it lies as far before the piece's tip as the plane leans.
			r.Fresh, r.Plane = true, planeOf(p.Key)
			r.From = p.To - lean(st.Section, r.Plane) + measure.Length(math.Ceil(float64(kerf)*secant(r.Plane)))
			last = p.To
		}
		if r.Left = st.Length - r.From; r.Left > 0 {
			d.Rests = append(d.Rests, r)
		}
	}
	return d
}

func secant(p nest.Plane) float64 {
	y, z := float64(p.SY)/1e9, float64(p.SZ)/1e9
	return math.Sqrt(1 + y*y + z*z)
}

// Key tells what a piece is, so that it is known again when an edit renames marks, and the plane of its last cut.
func Key(x *piece.Piece, right nest.Plane) string {
	return fmt.Sprintf("%s %d %s|%d,%d", x.Section, int64(x.Length), ends3(x), right.SY, right.SZ)
}

func ends3(x *piece.Piece) string {
	return fmt.Sprintf("%.4f/%.4f %s", x.Ends[0].MiterDeg+0, x.Ends[1].MiterDeg+0, x.Across)
}

func planeOf(key string) nest.Plane {
	var p nest.Plane
	if _, after, ok := strings.Cut(key, "|"); ok {
		if n, err := fmt.Sscanf(after, "%d,%d", &p.SY, &p.SZ); n == 2 && err == nil {
			return p
		}
	}
	return nest.Plane{}
}

// Lean gives how far a plane leans along a stick of the section.
func (p *Plan) Lean(section string, plane nest.Plane) measure.Length {
	s := p.Sections[section]
	y, z := math.Abs(float64(plane.SY))/1e9, math.Abs(float64(plane.SZ))/1e9
	return measure.Length(math.Floor(y*float64(s.Depth) + z*float64(s.Width)))
}

// open gives the numbers of a mark's pieces that are still to be cut.
func (d Done) open(x *piece.Piece) []int {
	cut := map[int]bool{}
	for _, u := range d.Cut[x.Mark] {
		cut[u] = true
	}
	var units []int
	for u := 1; u <= x.Qty; u++ {
		if !cut[u] {
			units = append(units, u)
		}
	}
	return units
}

func (d Done) rests(section string) []Rest {
	var out []Rest
	for _, r := range d.Rests {
		if r.Section == section {
			out = append(out, r)
		}
	}
	return out
}

func (d Done) taken(section, source string) map[measure.Length]int {
	n := map[measure.Length]int{}
	for _, t := range d.Taken {
		if t.Section == section && t.Source == source {
			n[t.Nominal]++
		}
	}
	return n
}

// StickName names a stick of the plan as the record does: what is left of a stick keeps its name, new ones are numbered
// on behind those that were taken.
func (p *Plan) StickName(bundle, used int) string { return p.names[[2]int{bundle, used}] }

// StickFrom is where a stick of the plan begins on the physical stick: 0 but for what is left of one.
func (p *Plan) StickFrom(bundle, used int) measure.Length {
	sn := &p.Nests[bundle]
	if i := sn.Nest.Used[used].Stick; i < len(sn.Rests) {
		return sn.Rests[i].From
	}
	return 0
}

// nameSticks gives every stick its name, in the order of the queue.
func (p *Plan) nameSticks(d Done) {
	p.names = map[[2]int]string{}
	next := map[string]int{}
	for _, t := range d.Taken {
		next[t.Section]++
	}
	for _, s := range p.Queue.Steps {
		key := [2]int{s.Bundle, s.Used}
		if _, named := p.names[key]; named {
			continue
		}
		sn := &p.Nests[s.Bundle]
		if i := sn.Nest.Used[s.Used].Stick; i < len(sn.Rests) {
			p.names[key] = sn.Rests[i].Stick
			continue
		}
		next[sn.Section]++
		p.names[key] = fmt.Sprintf("%s %d", sn.Section, next[sn.Section])
	}
}
