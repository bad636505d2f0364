package space

import (
	"math"
	"sort"
)

// Facet is a flat face of a convex solid: it lies behind its plane, whose normal points out.
type Facet struct {
	Plane Plane
	Poly  []Vec // counter-clockwise seen from outside
	Tag   int   // what the maker of the solid says that it is
}

// Solid is a convex body.
type Solid struct{ Facets []Facet }

// Prism makes a convex prism: base runs counter-clockwise seen against axis (so that axis points out of its far end), and
// is swept from the distance from to the distance to along the unit axis. Side i, from base[i] to base[i+1], gets the tag
// i; the near end gets -1, the far end -2.
func Prism(base []Vec, axis Vec, from, to float64) Solid {
	n := len(base)
	near, far := make([]Vec, n), make([]Vec, n)
	for i, p := range base {
		near[n-1-i], far[i] = p.Along(axis, from), p.Along(axis, to)
	}
	s := Solid{make([]Facet, 0, n+2)}
	for i := range base {
		k := (i + 1) % n
		a, b := base[i].Along(axis, from), base[k].Along(axis, from)
		normal := b.Sub(a).Cross(axis).Unit()
		s.Facets = append(s.Facets, Facet{Plane{a, normal}, []Vec{a, b, far[k], far[i]}, i})
	}
	s.Facets = append(s.Facets, Facet{Plane{near[0], axis.Mul(-1)}, near, -1}, Facet{Plane{far[0], axis}, far, -2})
	return s
}

// Empty tells whether nothing is left of the solid.
func (s Solid) Empty() bool { return len(s.Facets) < 4 }

// Clip gives the part of s behind the plane; the new face gets the tag. ok is false where nothing is left.
func (s Solid) Clip(p Plane, tag int) (Solid, bool) {
	anyFront, anyBack := false, false
	for _, f := range s.Facets {
		for _, v := range f.Poly {
			d := p.Dist(v)
			anyFront = anyFront || d > Near
			anyBack = anyBack || d < -Near
		}
	}
	if !anyBack {
		return Solid{}, false
	}
	if !anyFront {
		return s, true
	}
	out := Solid{make([]Facet, 0, len(s.Facets)+1)}
	var rim []Vec
	for _, f := range s.Facets {
		poly := Clip(f.Poly, p)
		if poly == nil {
			continue
		}
		if f.Plane.Normal.Dot(p.Normal) > 1-1e-12 && math.Abs(p.Dist(f.Plane.Point)) <= Near {
			continue
		}
		out.Facets = append(out.Facets, Facet{f.Plane, poly, f.Tag})
		for _, v := range poly {
			if math.Abs(p.Dist(v)) <= Near {
				rim = append(rim, v)
			}
		}
	}
	if cap := hull(rim, p.Normal); cap != nil {
		out.Facets = append(out.Facets, Facet{p, cap, tag})
	}
	return out, !out.Empty()
}

// hull orders points of one plane round their middle, counter-clockwise about normal, without doubles.
func hull(points []Vec, normal Vec) []Vec {
	var uniq []Vec
next:
	for _, p := range points {
		for _, q := range uniq {
			if p.Dist(q) <= 2*Near {
				continue next
			}
		}
		uniq = append(uniq, p)
	}
	if len(uniq) < 3 {
		return nil
	}
	var mid Vec
	for _, p := range uniq {
		mid = mid.Add(p.Mul(1 / float64(len(uniq))))
	}
	u := uniq[0].Sub(mid).Unit()
	w := normal.Cross(u)
	angle := func(p Vec) float64 { d := p.Sub(mid); return math.Atan2(d.Dot(w), d.Dot(u)) }
	sort.SliceStable(uniq, func(i, j int) bool { return angle(uniq[i]) < angle(uniq[j]) })
	if Area(uniq) < Near {
		return nil
	}
	return uniq
}

// Contains tells whether p lies inside s by more than depth (negative: at most -depth outside).
func (s Solid) Contains(p Vec, depth float64) bool {
	if len(s.Facets) == 0 {
		return false
	}
	for _, f := range s.Facets {
		if f.Plane.Dist(p) > -depth {
			return false
		}
	}
	return true
}

// Box gives the least and greatest coordinates.
func (s Solid) Box() Box {
	b := EmptyBox()
	for _, f := range s.Facets {
		for _, v := range f.Poly {
			b = b.Take(v)
		}
	}
	return b
}

// Volume gives the volume in mm3.
func (s Solid) Volume() float64 {
	if len(s.Facets) == 0 {
		return 0
	}
	o := s.Facets[0].Poly[0]
	var v float64
	for _, f := range s.Facets {
		v += areaVec(f.Poly).Dot(f.Poly[0].Sub(o)) / 6
	}
	return v
}

// Common gives the solid that two convex solids share; ok is false where they do not overlap.
func (s Solid) Common(t Solid) (Solid, bool) {
	ok := true
	for _, f := range t.Facets {
		if s, ok = s.Clip(f.Plane, f.Tag); !ok {
			return Solid{}, false
		}
	}
	return s, true
}

// Box is a box along the axes.
type Box struct{ Lo, Hi Vec }

// EmptyBox gives the box that holds nothing.
func EmptyBox() Box {
	i := math.Inf(1)
	return Box{Vec{i, i, i}, Vec{-i, -i, -i}}
}

// Take gives the box grown to hold v.
func (b Box) Take(v Vec) Box {
	return Box{Vec{min(b.Lo.X, v.X), min(b.Lo.Y, v.Y), min(b.Lo.Z, v.Z)}, Vec{max(b.Hi.X, v.X), max(b.Hi.Y, v.Y), max(b.Hi.Z, v.Z)}}
}

// Join gives the box that holds both.
func (b Box) Join(c Box) Box { return b.Take(c.Lo).Take(c.Hi) }

// Grown gives the box with d more on every side.
func (b Box) Grown(d float64) Box {
	return Box{Vec{b.Lo.X - d, b.Lo.Y - d, b.Lo.Z - d}, Vec{b.Hi.X + d, b.Hi.Y + d, b.Hi.Z + d}}
}

// Meets tells whether two boxes touch.
func (b Box) Meets(c Box) bool {
	return b.Lo.X <= c.Hi.X && c.Lo.X <= b.Hi.X && b.Lo.Y <= c.Hi.Y && c.Lo.Y <= b.Hi.Y && b.Lo.Z <= c.Hi.Z && c.Lo.Z <= b.Hi.Z
}
