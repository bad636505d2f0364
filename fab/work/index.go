package work

// index finds the place of a live event by its ID. Events are mostly asked for soon after
// they came, and whole runs of them die together; so the places of 256 events in a row share
// a page, and a page goes when none of its events lives. The zero value is empty.
type index struct {
	pages map[pageKey]*page
	last  *page
	key   pageKey // of last
}

type pageKey struct{ writer, number uint64 } // the number without its low 8 bits

type page struct {
	places [256]place
	live   int
}

func keyOf(id ID) pageKey { return pageKey{id.Writer, id.Number >> 8} }

func (x *index) page(id ID) *page {
	k := keyOf(id)
	if x.last != nil && x.key == k {
		return x.last
	}
	p := x.pages[k]
	if p != nil {
		x.last, x.key = p, k
	}
	return p
}

// at gives the place of an event, and whether it lives.
func (x *index) at(id ID) (place, bool) {
	p := x.page(id)
	if p == nil {
		return place{}, false
	}
	v := p.places[id.Number&255]
	return v, v.kind != kUnknown
}

// set gives a live event its place.
func (x *index) set(id ID, v place) {
	p := x.page(id)
	if p == nil {
		if x.pages == nil {
			x.pages = map[pageKey]*page{}
		}
		p = new(page)
		x.pages[keyOf(id)] = p
		x.last, x.key = p, keyOf(id)
	}
	to := &p.places[id.Number&255]
	if to.kind == kUnknown {
		p.live++
	}
	*to = v
}

// drop makes an event dead.
func (x *index) drop(id ID) {
	p := x.page(id)
	if p == nil {
		return
	}
	if v := &p.places[id.Number&255]; v.kind != kUnknown {
		*v = place{}
		if p.live--; p.live == 0 {
			delete(x.pages, keyOf(id))
			x.last = nil
		}
	}
}

func (x *index) clone() index {
	c := index{pages: make(map[pageKey]*page, len(x.pages))}
	for k, p := range x.pages {
		q := *p
		c.pages[k] = &q
	}
	return c
}
