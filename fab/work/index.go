package work

// index finds the place of a live event by its ID. Events are mostly asked for soon after
// they came, and whole runs of them die together; so the places of 256 events in a row share
// a page, and a page goes when none of its events lives. The zero value is empty.
type index struct {
	writers map[uint64]pages
	pages   pages // of the writer that was asked for last, or nil
	writer  uint64
	last    *page
	key     pageKey // of last
}

// pages are those of one writer, by an event's number without its low 8 bits.
type pages map[uint64]*page

type pageKey struct{ writer, number uint64 }

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
	p := x.of(id.Writer)[k.number]
	if p != nil {
		x.last, x.key = p, k
	}
	return p
}

// of gives a writer's pages, nil where there are none.
func (x *index) of(writer uint64) pages {
	if x.pages == nil || x.writer != writer {
		x.pages, x.writer = x.writers[writer], writer
	}
	return x.pages
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
		all := x.of(id.Writer)
		if all == nil {
			if x.writers == nil {
				x.writers = map[uint64]pages{}
			}
			all = pages{}
			x.writers[id.Writer], x.pages = all, all
		}
		p = new(page)
		all[id.Number>>8] = p
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
			x.last = nil
			all := x.of(id.Writer)
			if delete(all, id.Number>>8); len(all) == 0 { // a writer of whom nothing lives takes no room
				delete(x.writers, id.Writer)
				x.pages = nil
			}
		}
	}
}

func (x *index) clone() index {
	c := index{writers: make(map[uint64]pages, len(x.writers))}
	for w, all := range x.writers {
		own := make(pages, len(all))
		for n, p := range all {
			q := *p
			own[n] = &q
		}
		c.writers[w] = own
	}
	return c
}
