package file

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
)

// Limits on reading. A job or a shop file that somebody typed stays far below.
const (
	MaxText = 1 << 20 // bytes of a job, list, shop or price file
)

var (
	// ErrTooLong says that a file is longer than the limit of its kind.
	ErrTooLong = errors.New("longer than this kind of file may be")
	// ErrChanged says that somebody else wrote the file since it was read.
	ErrChanged = errors.New("changed by another program since it was read")
	// ErrNotOrdinary says that a folder, device or pipe stands where a file should.
	ErrNotOrdinary = errors.New("not an ordinary file")
)

// Stamp knows one text of a file again. The zero Stamp is that of a file that is not there.
type Stamp struct {
	there bool
	sum   [sha256.Size]byte
}

// StampOf gives the stamp of a text.
func StampOf(text []byte) Stamp { return Stamp{true, sha256.Sum256(text)} }

// Read returns the whole of an ordinary file of at most limit bytes, and its stamp.
func Read(sys System, path string, limit int64) ([]byte, Stamp, error) {
	fault := func(doing string, err error) ([]byte, Stamp, error) {
		return nil, Stamp{}, &Fault{Path: path, Doing: doing, Err: err}
	}
	// Asked before opening: opening a pipe would wait for its other end.
	var info fs.FileInfo
	if err := Again(func() (err error) { info, err = sys.Stat(path); return }); err != nil {
		return fault("reading", err)
	}
	if err := ordinary(info); err != nil {
		return fault("reading", err)
	}
	if info.Size() > limit {
		return fault("reading", fmt.Errorf("%w: it has %d bytes, the limit is %d", ErrTooLong, info.Size(), limit))
	}
	var h Handle
	if err := Again(func() (err error) { h, err = sys.OpenFile(path, os.O_RDONLY, 0); return }); err != nil {
		return fault("reading", err)
	}
	defer h.Close()
	var text bytes.Buffer
	// The file may grow while it is read, so the limit holds here too.
	if _, err := text.ReadFrom(io.LimitReader(steady{h}, limit+1)); err != nil {
		return fault("reading", err)
	}
	if int64(text.Len()) > limit {
		return fault("reading", fmt.Errorf("%w: the limit is %d bytes", ErrTooLong, limit))
	}
	return text.Bytes(), StampOf(text.Bytes()), nil
}

// steady repeats reads that a signal interrupted.
type steady struct{ io.Reader }

func (s steady) Read(p []byte) (n int, err error) {
	err = Again(func() (err error) { n, err = s.Reader.Read(p); return })
	return n, err
}

func ordinary(info fs.FileInfo) error {
	switch {
	case info.IsDir():
		return fmt.Errorf("%w: it is a folder", ErrNotOrdinary)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%w: it is a device or a pipe", ErrNotOrdinary)
	}
	return nil
}

// Options of Write.
type Options struct {
	Perm   fs.FileMode // of a new file, before the umask; 0 means 0666
	Expect *Stamp      // write only if the file still is what it was when this stamp was taken
	Fresh  bool        // write only if nothing is there yet
}

// Write replaces the file at path by text, or makes it, as the package comment lays out. On
// an error the Fault says what is left.
func Write(sys System, path string, text []byte, opt Options) error {
	const untouched = "the file as it was is untouched"
	real, err := Real(sys, path)
	if err != nil {
		return err
	}
	left := untouched
	fault := func(doing string, err error) error {
		return &Fault{Path: path, Doing: doing, Left: left, Err: err}
	}
	perm, old, err := target(sys, real, opt)
	if err != nil {
		return fault("saving", err)
	}
	if !old {
		left = "nothing was written"
	}
	sweep(sys, real)
	aside, h, err := openAside(sys, real, perm)
	if err != nil {
		return fault("making a new file beside the old one", err)
	}
	drop := func(doing string, err error) error {
		h.Close()
		if rerr := Again(func() error { return sys.Remove(aside) }); rerr != nil && !errors.Is(rerr, fs.ErrNotExist) {
			left += "; " + aside + " is a leftover and may be deleted"
		}
		return fault(doing, err)
	}
	if old { // before there is anything in it to be read
		if err := Again(func() error { return h.Chmod(perm) }); err != nil {
			return drop("keeping the permissions", err)
		}
	}
	if _, err := WriteAll(h, text, 0); err != nil {
		return drop("writing the new text aside", err)
	}
	if err := Again(h.Sync); err != nil {
		return drop("bringing the new text to the disk", err)
	}
	if opt.Expect != nil || opt.Fresh { // once more, as late as can be
		if _, _, err := target(sys, real, opt); err != nil {
			return drop("saving", err)
		}
	}
	if err := Supplant(sys, aside, real, h); err != nil {
		return drop("putting the new file in the place of the old", err)
	}
	h.Close()
	left = "the new text is in place, but a power cut now might bring the old one back: save again"
	if err := Again(func() error { return sys.SyncFolder(Folder(real)) }); err != nil {
		return fault("bringing the folder to the disk", err)
	}
	return nil
}

// target looks at what will be replaced: its permissions, and whether it may be.
func target(sys System, real string, opt Options) (perm fs.FileMode, old bool, err error) {
	var info fs.FileInfo
	err = Again(func() (err error) { info, err = sys.Stat(real); return })
	if errors.Is(err, fs.ErrNotExist) {
		if opt.Expect != nil && opt.Expect.there {
			return 0, false, fmt.Errorf("%w: it is gone", ErrChanged)
		}
		if opt.Perm == 0 {
			opt.Perm = 0o666
		}
		return opt.Perm, false, nil
	}
	if err != nil {
		return 0, false, err
	}
	if opt.Fresh {
		return 0, true, fs.ErrExist
	}
	if err := ordinary(info); err != nil {
		return 0, true, err
	}
	// Opening it to write changes nothing, and fails where its owner does not want it changed.
	var h Handle
	if err := Again(func() (err error) { h, err = sys.OpenFile(real, os.O_WRONLY, 0); return }); err != nil {
		return 0, true, err
	}
	h.Close()
	if opt.Expect != nil {
		_, now, err := Read(sys, real, info.Size())
		if err != nil && !errors.Is(err, ErrTooLong) {
			return 0, true, err
		}
		if err != nil || now != *opt.Expect {
			return 0, true, ErrChanged
		}
	}
	return info.Mode().Perm(), true, nil
}

const asideMark = ".aside-"

func asidePrefix(real string) string { return "." + filepath.Base(real) + asideMark }

// openAside makes the aside and takes its lock, which tells others that it is in use. Where
// there are no locks nothing is swept either.
func openAside(sys System, real string, perm fs.FileMode) (name string, h Handle, err error) {
	for range 100 {
		name = Beside(real, fmt.Sprintf("%s%08x", asidePrefix(real), rand.Uint32()))
		err = Again(func() (err error) { h, err = sys.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, perm); return })
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return name, nil, err
		}
		// Between the two calls somebody else's sweep may have taken it for a leftover.
		lock := Again(func() error { return h.Lock(true) })
		still, err := At(sys, name, h)
		switch {
		case err != nil:
			h.Close()
			_ = sys.Remove(name)
			return name, nil, err
		case still && !errors.Is(lock, ErrLocked):
			return name, h, nil
		}
		h.Close()
	}
	return name, nil, ErrLocked
}

// Supplant renames the open file h from one name to another, over whatever bears that. A server
// may report a failure of what it has done, most of all when it is asked twice; so what counts
// is whether the file bears its new name then.
func Supplant(sys System, from, to string, h Handle) error {
	err := Again(func() error { return sys.Rename(from, to) })
	if err == nil {
		return nil
	}
	if there, at := At(sys, to, h); there && at == nil {
		return nil
	}
	return err
}

// At tells whether the open file still is the one with this name; a name that is gone is no
// error.
func At(sys System, name string, h Handle) (bool, error) {
	var mine, there fs.FileInfo
	if err := Again(func() (err error) { mine, err = h.Stat(); return }); err != nil {
		return false, err
	}
	err := Again(func() (err error) { there, err = sys.Stat(name); return })
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil && sys.Same(mine, there), err
}

// sweep removes asides of the same file that no living process holds. What it cannot remove
// stays: a leftover is untidy, not wrong.
func sweep(sys System, real string) {
	names, err := sys.Names(Folder(real))
	if err != nil {
		return
	}
	for _, n := range names {
		if !strings.HasPrefix(n, asidePrefix(real)) {
			continue
		}
		path := Beside(real, n)
		if info, err := sys.Lstat(path); err != nil || !info.Mode().IsRegular() {
			continue
		}
		h, err := sys.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			continue
		}
		if h.Lock(true) == nil {
			if still, err := At(sys, path, h); still && err == nil {
				_ = sys.Remove(path)
			}
		}
		h.Close()
	}
}
