package work

// Progress is the state of a job's work, and beside it the base: the state as it was at the last event that changes what
// is still to be planned (a spoiled piece, a measured stick, another text of the job). Plans are made from the base, so
// that the order at the saw stays as it is while pieces are ticked off, and a restart finds the same plan.
//
// A base costs a copy of the state, and a day at the saw may call for one with every second event; so it is made when it
// is asked for, from an earlier base and the events since.
type Progress struct {
	state *State
	base  *State // the latest that was made; nobody changes it any more
	since IDs    // events that count, behind the base of now
	job   string // the text of the job that the work goes by, as far as the record says

	moved   bool   // the base of now lies further on than base
	behind  []past // events behind base, as long as they are few
	texts   []byte // theirs, one behind the other
	upTo    int    // so many of them belong to the base of now
	outgrew bool   // they were too many to be kept: the next base is a copy of the state
}

type past struct {
	id       ID
	at       int64
	from, to int // in texts
}

// Between two copies of a state.
const (
	keptPast      = 20_000  // events
	keptPastBytes = 4 << 20 // of their texts
)

// JobSetting is the setting under which the record keeps which text of the job was worked from.
const JobSetting = "job"

// NewProgress gives the progress of a job on which nothing was done.
func NewProgress() *Progress { return &Progress{state: New(), base: New()} }

// State gives the state, which goes on changing with Apply.
func (p *Progress) State() *State { return p.state }

// Apply takes one event in, as State.Apply does. It reports whether the state changed, and whether the event calls for a
// new plan, beyond ticking off.
func (p *Progress) Apply(id ID, at int64, text []byte) (changed, replan bool) {
	var f fields
	if !p.outgrew {
		from := len(p.texts)
		p.texts = append(p.texts, text...)
		p.behind = append(p.behind, past{id, at, from, len(p.texts)})
	}
	if changed = p.state.take(id, at, text, &f); changed {
		p.since.Add(id)
		replan = p.replans(&f)
	}
	if replan {
		p.since, p.moved = IDs{}, true
		if p.upTo = len(p.behind); p.outgrew {
			p.base, p.outgrew, p.moved = p.state.Clone(), false, false
		}
	}
	if len(p.behind) >= keptPast || len(p.texts) > keptPastBytes {
		p.Base()
		p.behind, p.texts, p.upTo, p.outgrew = p.behind[:0], p.texts[:0], 0, true
	}
	return changed, replan
}

func (p *Progress) replans(f *fields) bool {
	switch f.kind {
	case kSpoiled, kFitted, kShelved, kTripped, kReceived:
		return true
	case kLoaded:
		return f.nominal != 0 && f.nominal != f.length
	case kSet:
		if f.name != JobSetting {
			return false
		}
		// The first entry only says which text the work began with; another text calls for a new plan.
		was := p.job
		p.job = f.value
		return was != "" && was != f.value
	case kUndone:
		return !p.since.Has(f.of)
	}
	return false
}

// Base gives the base. It is the caller's to read and nobody's to change.
func (p *Progress) Base() *State {
	if p.moved {
		b := p.base.Clone()
		for _, e := range p.behind[:p.upTo] {
			b.Apply(e.id, e.at, p.texts[e.from:e.to])
		}
		p.base, p.moved = b, false
		p.forget(p.upTo)
	}
	return p.base
}

// forget lets the first n of the events behind the base go.
func (p *Progress) forget(n int) {
	gone := 0
	if n > 0 {
		gone = p.behind[n-1].to
	}
	p.texts = append(p.texts[:0], p.texts[gone:]...)
	p.behind = append(p.behind[:0], p.behind[n:]...)
	for i := range p.behind {
		p.behind[i].from -= gone
		p.behind[i].to -= gone
	}
	p.upTo = 0
}

// Archive gives the progress as bytes, from which Restore makes the same again, much faster than from the events.
func (p *Progress) Archive() []byte {
	a := archive{b: make([]byte, 0, 1<<20)}
	version := uint64(archiveVersion)
	a.u64(&version)
	p.walk(&a)
	return a.b
}

func (p *Progress) walk(a *archive) {
	p.Base()
	a.state(p.state)
	a.state(p.base)
	a.ids(&p.since)
	a.text(&p.job)
}

// Restore makes a progress from what Archive gave. Bytes of another version, or that are damaged so that it shows, are
// an ErrArchive; whoever keeps them has to keep a checksum beside them.
func Restore(b []byte) (*Progress, error) {
	a := archive{b: b, reading: true}
	var version uint64
	if a.u64(&version); version != archiveVersion {
		return nil, ErrArchive
	}
	p := NewProgress()
	p.walk(&a)
	if a.bad || a.i != len(b) {
		return nil, ErrArchive
	}
	// Which events came behind the base is not kept: the next base is a copy of the state.
	p.outgrew = true
	return p, nil
}
