package trouble

import (
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"syscall"

	"bench.example/soapstone/stock/file"
)

func (h *handle) begin(kind Kind, size int) (Fault, error) {
	if h.life != h.disk.life {
		return Fault{}, ErrDead
	}
	if h.closed {
		return Fault{}, bad(string(kind), h.name, fs.ErrClosed)
	}
	return h.disk.begin(kind, h.name, size)
}

func (h *handle) finish(f Fault, kind Kind) error { return h.disk.finish(f, kind, h.name) }

// Read reads on.
func (h *handle) Read(p []byte) (int, error) {
	n, err := h.ReadAt(p, h.off)
	h.off += int64(n)
	if n > 0 && err == io.EOF {
		err = nil
	}
	return n, err
}

// ReadAt reads at a place.
func (h *handle) ReadAt(p []byte, off int64) (int, error) {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	f, err := h.begin(Read, len(p))
	if err != nil {
		return 0, err
	}
	n := 0
	if off < int64(len(h.node.data)) {
		n = copy(p, h.node.data[off:])
	}
	if f.Short && n > 0 {
		n = min(n, max(1, f.Bytes))
		return n, nil
	}
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// WriteAt writes at a place.
func (h *handle) WriteAt(p []byte, off int64) (int, error) {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	f, err := h.begin(Write, len(p))
	if h.flag&(os.O_WRONLY|os.O_RDWR) == 0 && err == nil {
		return 0, bad("write", h.name, fs.ErrPermission)
	}
	n := len(p)
	if f.Short || f.Err != nil && !f.After {
		n = min(n, f.Bytes)
	}
	if err == ErrDead {
		if !f.Die {
			return 0, err
		}
		n = min(n, f.Bytes) // killed in the middle of it
	}
	h.node.put(p[:n], off)
	if err != nil {
		return n, err
	}
	if f.Short && n < len(p) {
		return n, io.ErrShortWrite
	}
	return n, h.finish(f, Write)
}

func (n *node) put(p []byte, off int64) {
	if len(p) == 0 {
		return
	}
	if end := int(off) + len(p); end > len(n.data) {
		n.data = append(n.data, make([]byte, end-len(n.data))...)
	}
	copy(n.data[off:], p)
	n.pending = append(n.pending, write{off, append([]byte(nil), p...)})
}

func (n *node) cut(size int64) {
	n.data = resize(n.data, size)
	n.pending = append(n.pending, write{off: size})
}

func resize(b []byte, size int64) []byte {
	if int64(len(b)) >= size {
		return b[:size]
	}
	return append(b, make([]byte, size-int64(len(b)))...)
}

// Truncate changes the length.
func (h *handle) Truncate(size int64) error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	f, err := h.begin(Truncate, 0)
	if err != nil {
		return err
	}
	h.node.cut(size)
	return h.finish(f, Truncate)
}

// Sync brings the file's bytes to the disk. When it fails, an unforeseeable part of them may
// be there, and the kernel forgets that they ever had to be written.
func (h *handle) Sync() error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	f, err := h.begin(Sync, 0)
	if err != nil {
		if f.Err != nil && err != ErrDead && f.Err != syscall.EINTR { // an interrupted one forgets nothing
			h.node.lose(rand.New(rand.NewPCG(uint64(h.disk.calls), 7)))
		}
		return err
	}
	// Only what the kernel still believes to be missing: bytes that a failed sync has made it
	// forget stay lost.
	for _, w := range h.node.pending {
		h.node.disk = w.on(h.node.disk)
	}
	h.node.pending = nil
	return h.finish(f, Sync)
}

// lose lets a part of the pending writes reach the disk and forgets the rest.
func (n *node) lose(rng *rand.Rand) {
	n.disk = n.survive(rng)
	n.pending = nil
}

// Chmod changes permissions.
func (h *handle) Chmod(mode fs.FileMode) error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	f, err := h.begin(Chmod, 0)
	if err != nil {
		return err
	}
	h.node.mode = mode
	return h.finish(f, Chmod)
}

// Stat looks at the open file.
func (h *handle) Stat() (fs.FileInfo, error) {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if _, err := h.begin(Stat, 0); err != nil {
		return nil, err
	}
	return info{h.name, h.node, h.node.mode, int64(len(h.node.data))}, nil
}

// Lock takes the lock or reports file.ErrLocked.
func (h *handle) Lock(exclusive bool) error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if _, err := h.begin(Lock, 0); err != nil {
		return err
	}
	n := h.node
	others := len(n.shared)
	if n.shared[h] {
		others--
	}
	switch {
	case n.holder != nil && n.holder != h, exclusive && others > 0:
		return file.ErrLocked
	case exclusive:
		delete(n.shared, h)
		n.holder = h
	default:
		n.holder = nil
		n.shared[h] = true
	}
	return nil
}

func (n *node) release(h *handle) {
	if n.holder == h {
		n.holder = nil
	}
	delete(n.shared, h)
}

// Unlock gives the lock back.
func (h *handle) Unlock() error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	if _, err := h.begin(Unlock, 0); err != nil {
		return err
	}
	h.node.release(h)
	return nil
}

// Close closes the file, also when it reports a failure.
func (h *handle) Close() error {
	h.disk.mu.Lock()
	defer h.disk.mu.Unlock()
	_, err := h.begin(Close, 0)
	if err == ErrDead {
		return err
	}
	h.closed = true
	h.node.release(h)
	return err
}
