package trouble

import (
	"maps"
	"math/rand/v2"
	"slices"
)

// SyncFolder brings the names of a folder to the disk.
func (d *Disk) SyncFolder(folder string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.begin(SyncFolder, folder, 0)
	if err != nil {
		return err
	}
	d.settle(func(c change) bool { return inFolder(folder, c.set) || inFolder(folder, c.drop) })
	return d.finish(f, SyncFolder, folder)
}

// settle brings the changes of names for which which is true to the disk.
func (d *Disk) settle(which func(change) bool) {
	rest := d.pending[:0]
	for _, c := range d.pending {
		if !which(c) {
			rest = append(rest, c)
			continue
		}
		if c.drop != "" {
			delete(d.durable, c.drop)
		}
		if c.set != "" {
			d.durable[c.set] = c.node
		}
	}
	d.pending = rest
}

// Restart is the next start after the process has died, however it did: locks are free, the
// kernel's memory is as it was.
func (d *Disk) Restart() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.restart()
}

func (d *Disk) restart() {
	d.dead = false
	d.life++
	for _, n := range d.now {
		n.holder, n.shared = nil, map[*handle]bool{}
	}
}

// PowerCut takes the power away and brings it back: what was not on the disk is gone, in whole,
// in part or not at all, as chance has it.
func (d *Disk) PowerCut(rng *rand.Rand) {
	d.mu.Lock()
	defer d.mu.Unlock()
	// Names: a journal keeps their order, so some first part of them has arrived.
	arrived := 0
	if len(d.pending) > 0 {
		arrived = rng.IntN(len(d.pending) + 1)
	}
	i := -1
	d.settle(func(change) bool { i++; return i < arrived })
	d.pending = nil
	for _, path := range sorted(d.durable) {
		n := d.durable[path]
		n.disk = n.survive(rng)
		n.data = append([]byte(nil), n.disk...)
		n.pending = nil
	}
	d.now = maps.Clone(d.durable)
	d.restart()
}

// sector is the least that a disk of this kind writes in one piece: small, so that even one
// entry of the record tears.
const sector = 32

// survive gives what a power cut, or a sync that failed, makes of the file.
func (n *node) survive(rng *rand.Rand) []byte {
	b := append([]byte(nil), n.disk...)
	if len(n.pending) == 0 {
		return b
	}
	switch rng.IntN(4) {
	case 0: // nothing arrived
		return b
	case 1: // everything did
		for _, w := range n.pending {
			b = w.on(b)
		}
		return b
	case 2: // the first writes, and a part of the next
		k := rng.IntN(len(n.pending))
		for _, w := range n.pending[:k] {
			b = w.on(b)
		}
		w := n.pending[k]
		if n := len(w.data); n > 0 {
			if w.data = w.data[:rng.IntN(n+1)]; len(w.data) > 0 {
				b = w.on(b)
			}
		}
		return b
	}
	// The length arrived and the blocks did not, or some did.
	for _, w := range n.pending {
		b = resize(b, max(int64(len(b)), w.off+int64(len(w.data))))
	}
	for _, w := range n.pending {
		for off := w.off &^ (sector - 1); off < w.off+int64(len(w.data)); off += sector {
			if rng.IntN(2) == 0 {
				from, to := max(off, w.off), min(off+sector, w.off+int64(len(w.data)), int64(len(b)))
				if from < to {
					copy(b[from:to], w.data[from-w.off:])
				}
			}
		}
	}
	return b
}

// on makes the write on b.
func (w write) on(b []byte) []byte {
	if len(w.data) == 0 {
		return resize(b, w.off)
	}
	if end := w.off + int64(len(w.data)); end > int64(len(b)) {
		b = resize(b, end)
	}
	copy(b[w.off:], w.data)
	return b
}

func sorted(m map[string]*node) []string { return slices.Sorted(maps.Keys(m)) }
