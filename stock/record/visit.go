package record

// visitor hands entries to Options.Visit on a goroutine of its own, so that a long record is
// read and checked on one processor while its entries are folded on another.
type visitor struct {
	full, empty chan *batch
	filling     *batch
	end         chan any // what Visit panicked with, or nil
}

// batch is a run of entries with their payloads behind one another.
type batch struct {
	entries []Entry
	bytes   []byte
}

const (
	batches    = 4
	batchBytes = 1 << 16
)

func newVisitor(visit func(Entry)) *visitor {
	v := &visitor{full: make(chan *batch, batches), empty: make(chan *batch, batches), end: make(chan any, 1)}
	for range batches - 1 {
		v.empty <- new(batch)
	}
	v.filling = new(batch)
	go v.run(visit)
	return v
}

func (v *visitor) run(visit func(Entry)) {
	var wrong any
	for b := range v.full {
		if wrong == nil {
			wrong = b.visit(visit)
		}
		b.entries, b.bytes = b.entries[:0], b.bytes[:0]
		v.empty <- b
	}
	v.end <- wrong
}

func (b *batch) visit(visit func(Entry)) (wrong any) {
	defer func() { wrong = recover() }()
	at := 0
	for _, e := range b.entries {
		n := at + len(e.Payload)
		e.Payload = b.bytes[at:n:n]
		at = n
		visit(e)
	}
	return nil
}

// add copies the entry, whose payload is good for the moment only.
func (v *visitor) add(e Entry) {
	b := v.filling
	b.bytes = append(b.bytes, e.Payload...)
	b.entries = append(b.entries, e) // of its payload only the length is used again
	if len(b.bytes) >= batchBytes {
		v.full <- b
		v.filling = <-v.empty
	}
}

// wait returns when every entry was visited. A panic in Visit goes on here.
func (v *visitor) wait() {
	v.full <- v.filling
	close(v.full)
	if wrong := <-v.end; wrong != nil {
		panic(wrong)
	}
}
