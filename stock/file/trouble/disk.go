package trouble

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"bench.example/soapstone/stock/file"
)

// ErrDead is what every call reports when the process that makes it is dead. Nothing that it
// does reaches the disk any more.
var ErrDead = errors.New("the process is dead")

// Kind says which call of the operating system is made.
type Kind string

// The kinds of calls.
const (
	Open       Kind = "open"
	Stat       Kind = "stat"
	Readlink   Kind = "readlink"
	Rename     Kind = "rename"
	Remove     Kind = "remove"
	Names      Kind = "list folder"
	SyncFolder Kind = "sync folder"
	Read       Kind = "read"
	Write      Kind = "write"
	Sync       Kind = "sync"
	Truncate   Kind = "truncate"
	Chmod      Kind = "chmod"
	Lock       Kind = "lock"
	Unlock     Kind = "unlock"
	Close      Kind = "close"
)

// Changes tells whether calls of this kind change what is on the disk.
func (k Kind) Changes() bool {
	switch k {
	case Open, Rename, Remove, SyncFolder, Write, Sync, Truncate, Chmod:
		return true
	}
	return false
}

// Call is one call as it is about to be made.
type Call struct {
	N    int // from 0
	Kind Kind
	Name string
	Size int // bytes of a read or write
}

// Fault is what happens to a call. The zero value is nothing.
type Fault struct {
	Err   error // reported in place of doing anything ...
	Bytes int   // ... but a write still takes, a read still gives so many bytes of it
	Short bool  // only so many bytes (Bytes), and no error of the disk's
	Die   bool  // the process dies before the call has an effect
	After bool  // with Die or Err: the call has its effect first
}

// Disk is the disk and the kernel that looks after it. It is a file.System.
type Disk struct {
	// Plan is asked before each call; nil lets everything succeed.
	Plan func(Call) Fault

	mu      sync.Mutex
	calls   int
	dead    bool
	life    int // handles of an earlier life are dead
	now     map[string]*node
	durable map[string]*node
	pending []change // of names, in order
	nodes   int64
}

var _ file.System = (*Disk)(nil)

type node struct {
	id      int64
	mode    fs.FileMode
	link    string // of a symbolic link
	data    []byte // as programs see it
	disk    []byte // as it is on the disk
	pending []write
	holder  *handle // of the exclusive lock
	shared  map[*handle]bool
}

// write is a write or, without bytes, a change of length to off, that is not on the disk yet.
type write struct {
	off  int64
	data []byte
}

// change is a change of names in one folder that is not on the disk yet.
type change struct {
	set, drop string // a rename does both
	node      *node  // that set names from now on
}

type handle struct {
	disk   *Disk
	node   *node
	name   string
	off    int64
	flag   int
	life   int
	closed bool
}

// New gives an empty disk with the folders given.
func New(folders ...string) *Disk {
	d := &Disk{now: map[string]*node{}, durable: map[string]*node{}}
	for _, f := range folders {
		n := d.node(fs.ModeDir | 0o777)
		d.now[f], d.durable[f] = n, n
	}
	return d
}

func (d *Disk) node(mode fs.FileMode) *node {
	d.nodes++
	return &node{id: d.nodes, mode: mode, shared: map[*handle]bool{}}
}

// Calls is how many calls were made.
func (d *Disk) Calls() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.calls
}

// Link makes a symbolic link, durably.
func (d *Disk) Link(name, to string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := d.node(fs.ModeSymlink | 0o777)
	n.link = to
	d.now[name], d.durable[name] = n, n
}

// begin makes a call: it reports what is to happen to it. d.mu is held.
func (d *Disk) begin(kind Kind, name string, size int) (Fault, error) {
	if d.dead {
		return Fault{}, ErrDead
	}
	c := Call{d.calls, kind, name, size}
	d.calls++
	if d.Plan == nil {
		return Fault{}, nil
	}
	f := d.Plan(c)
	if f.Die && !f.After {
		d.dead = true
		return f, ErrDead
	}
	if f.Err != nil && !f.After {
		return f, &fs.PathError{Op: string(kind), Path: name, Err: f.Err}
	}
	return f, nil
}

// finish ends a call that had its effect.
func (d *Disk) finish(f Fault, kind Kind, name string) error {
	if f.Die {
		d.dead = true
		return ErrDead
	}
	if f.Err != nil {
		return &fs.PathError{Op: string(kind), Path: name, Err: f.Err}
	}
	return nil
}

func bad(op, name string, err error) error { return &fs.PathError{Op: op, Path: name, Err: err} }

// resolve follows links, also those that lead nowhere. No folder of this disk is a link, so "/.." goes by its letters.
func (d *Disk) resolve(name string) string {
	name = filepath.Clean(name)
	for range 40 {
		n := d.now[name]
		if n == nil || n.mode&fs.ModeSymlink == 0 {
			return name
		}
		to := n.link
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(name), to)
		}
		name = to
	}
	return name
}

// OpenFile opens or makes a file.
func (d *Disk) OpenFile(name string, flag int, perm fs.FileMode) (file.Handle, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.begin(Open, name, 0)
	if err != nil {
		return nil, err
	}
	real := d.resolve(name)
	n := d.now[real]
	writes := flag&(os.O_WRONLY|os.O_RDWR) != 0
	switch {
	case n == nil && flag&os.O_CREATE == 0:
		return nil, bad("open", name, fs.ErrNotExist)
	case n == nil:
		if p := d.now[filepath.Dir(real)]; p == nil {
			return nil, bad("open", name, fs.ErrNotExist)
		}
		n = d.node(perm)
		d.now[real] = n
		d.pending = append(d.pending, change{set: real, node: n})
	case flag&os.O_EXCL != 0:
		return nil, bad("open", name, fs.ErrExist)
	case n.mode.IsDir() && writes:
		return nil, bad("open", name, syscall.EISDIR)
	case writes && n.mode.Perm()&0o200 == 0, !writes && n.mode.Perm()&0o400 == 0:
		return nil, bad("open", name, fs.ErrPermission)
	}
	if err := d.finish(f, Open, name); err != nil {
		return nil, err
	}
	if flag&os.O_TRUNC != 0 {
		n.cut(0)
	}
	return &handle{disk: d, node: n, name: name, flag: flag, life: d.life}, nil
}

// Stat looks at a file, following links.
func (d *Disk) Stat(name string) (fs.FileInfo, error) { return d.stat(name, true) }

// Lstat looks at a file or link.
func (d *Disk) Lstat(name string) (fs.FileInfo, error) { return d.stat(name, false) }

func (d *Disk) stat(name string, follow bool) (fs.FileInfo, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, err := d.begin(Stat, name, 0); err != nil {
		return nil, err
	}
	if follow {
		name = d.resolve(name)
	}
	n := d.now[name]
	if n == nil {
		return nil, bad("stat", name, fs.ErrNotExist)
	}
	return info{name, n, n.mode, int64(len(n.data))}, nil
}

// Readlink reads a link.
func (d *Disk) Readlink(name string) (string, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, err := d.begin(Readlink, name, 0); err != nil {
		return "", err
	}
	n := d.now[name]
	if n == nil || n.mode&fs.ModeSymlink == 0 {
		return "", bad("readlink", name, syscall.EINVAL)
	}
	return n.link, nil
}

// Rename moves a name, in one step.
func (d *Disk) Rename(from, to string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.begin(Rename, to, 0)
	if err != nil {
		return err
	}
	n := d.now[from]
	if n == nil {
		return bad("rename", from, fs.ErrNotExist)
	}
	d.now[to] = n
	delete(d.now, from)
	d.pending = append(d.pending, change{set: to, drop: from, node: n})
	return d.finish(f, Rename, to)
}

// Remove takes a name away.
func (d *Disk) Remove(name string) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, err := d.begin(Remove, name, 0)
	if err != nil {
		return err
	}
	if d.now[name] == nil {
		return bad("remove", name, fs.ErrNotExist)
	}
	delete(d.now, name)
	d.pending = append(d.pending, change{drop: name})
	return d.finish(f, Remove, name)
}

// Names lists a folder.
func (d *Disk) Names(folder string) ([]string, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, err := d.begin(Names, folder, 0); err != nil {
		return nil, err
	}
	var names []string
	for p := range d.now {
		if filepath.Dir(p) == folder && p != folder {
			names = append(names, filepath.Base(p))
		}
	}
	slices.Sort(names)
	return names, nil
}

// Same tells whether two infos are of one file.
func (d *Disk) Same(a, b fs.FileInfo) bool {
	x, ok := a.(info)
	y, also := b.(info)
	return ok && also && x.node == y.node
}

// Text gives what programs see in a file, and whether it is there; it is no call.
func (d *Disk) Text(name string) (string, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := d.now[name]
	if n == nil {
		return "", false
	}
	return string(n.data), true
}

// Put makes a file with a text and permissions, durably; it is no call.
func (d *Disk) Put(name, text string, mode fs.FileMode) {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := d.node(mode)
	n.data, n.disk = []byte(text), []byte(text)
	d.now[name], d.durable[name] = n, n
}

// All lists every file's path; it is no call.
func (d *Disk) All() (paths []string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for p, n := range d.now {
		if !n.mode.IsDir() {
			paths = append(paths, p)
		}
	}
	slices.Sort(paths)
	return paths
}

type info struct {
	name string
	node *node
	mode fs.FileMode
	size int64
}

func (i info) Name() string       { return filepath.Base(i.name) }
func (i info) Size() int64        { return i.size }
func (i info) Mode() fs.FileMode  { return i.mode }
func (i info) ModTime() time.Time { return time.Time{} }
func (i info) IsDir() bool        { return i.mode.IsDir() }
func (i info) Sys() any           { return nil }

var _ io.Reader = (*handle)(nil)

func inFolder(folder, name string) bool {
	return name != "" && filepath.Dir(name) == strings.TrimSuffix(folder, "/")
}
