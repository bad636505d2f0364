package file

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// System is the part of the operating system that the stock rooms write through. [OS] is the
// real one.
type System interface {
	// OpenFile opens as os.OpenFile does.
	OpenFile(name string, flag int, perm fs.FileMode) (Handle, error)
	// Stat follows symbolic links, Lstat does not.
	Stat(name string) (fs.FileInfo, error)
	Lstat(name string) (fs.FileInfo, error)
	Readlink(name string) (string, error)
	Rename(from, to string) error
	Remove(name string) error
	// Names lists a folder, sorted.
	Names(folder string) ([]string, error)
	// SyncFolder makes the names in a folder durable.
	SyncFolder(folder string) error
	// Same tells whether two answers of Stat are of the same file.
	Same(a, b fs.FileInfo) bool
}

// Handle is an open file.
type Handle interface {
	io.Reader
	io.ReaderAt
	io.WriterAt
	io.Closer
	Stat() (fs.FileInfo, error)
	Sync() error
	Truncate(size int64) error
	Chmod(mode fs.FileMode) error
	// Lock takes the file's lock without waiting, shared or exclusive, and reports
	// ErrLocked when somebody else holds it. The lock is the operating system's own: it
	// is gone when the process is gone, however it went.
	Lock(exclusive bool) error
	Unlock() error
}

// ErrLocked says that another process holds the lock.
var ErrLocked = errors.New("held by another process")

// OS is the real operating system.
var OS System = osSystem{}

type osSystem struct{}

type osHandle struct{ *os.File }

func (osSystem) OpenFile(name string, flag int, perm fs.FileMode) (Handle, error) {
	f, err := os.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return osHandle{f}, nil
}

func (osSystem) Stat(name string) (fs.FileInfo, error)  { return os.Stat(name) }
func (osSystem) Lstat(name string) (fs.FileInfo, error) { return os.Lstat(name) }
func (osSystem) Readlink(name string) (string, error)   { return os.Readlink(name) }
func (osSystem) Rename(from, to string) error           { return os.Rename(from, to) }
func (osSystem) Remove(name string) error               { return os.Remove(name) }
func (osSystem) Same(a, b fs.FileInfo) bool             { return os.SameFile(a, b) }

func (osSystem) Names(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
	}
	return names, nil
}

func (osSystem) SyncFolder(folder string) error {
	if !foldersSync {
		return nil
	}
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	err = f.Sync()
	// Some network folders cannot be synced at all and say so; their names are as durable
	// as their server makes them. Anything else is a failure.
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

// WriteAll writes the whole of p at off: short writes are continued and interrupted ones
// repeated. It reports how much was written.
func WriteAll(h Handle, p []byte, off int64) (int, error) {
	done := 0
	for idle := 0; done < len(p); {
		n, err := h.WriteAt(p[done:], off+int64(done))
		n = min(max(n, 0), len(p)-done)
		done += n
		if n > 0 {
			idle = 0
		} else {
			idle++
		}
		switch {
		case err != nil && !passing(err):
			return done, err
		case idle > maxIdle:
			if err == nil {
				err = io.ErrShortWrite
			}
			return done, err
		}
	}
	return done, nil
}

// maxIdle is how often a call that was interrupted, or that did nothing, is repeated.
const maxIdle = 100

// passing tells an interruption, or a write that was merely short, from a failure.
func passing(err error) bool {
	return errors.Is(err, syscall.EINTR) || errors.Is(err, syscall.EAGAIN) || errors.Is(err, io.ErrShortWrite)
}

// Again repeats a call that was interrupted by a signal.
func Again(call func() error) error {
	for i := 0; ; i++ {
		err := call()
		if err == nil || i >= maxIdle || !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}

// Real follows the symbolic links of a path's last element, up to 40 deep, and returns the
// name of the file behind them, which need not exist yet.
func Real(sys System, path string) (string, error) {
	for range 40 {
		var info fs.FileInfo
		err := Again(func() (err error) { info, err = sys.Lstat(path); return })
		if errors.Is(err, fs.ErrNotExist) || err == nil && info.Mode()&fs.ModeSymlink == 0 {
			return path, nil
		}
		if err != nil {
			return "", &Fault{Path: path, Doing: "looking for the file", Err: err}
		}
		var to string
		if err := Again(func() (err error) { to, err = sys.Readlink(path); return }); err != nil {
			return "", &Fault{Path: path, Doing: "following the link", Err: err}
		}
		if !filepath.IsAbs(to) {
			to = tidy(sys, Beside(path, to))
		}
		path = to
	}
	return "", &Fault{Path: path, Doing: "following the link", Err: errors.New("the links go round in a circle")}
}

// tidy takes "/.." out of a path where that leads to the same folder.
func tidy(sys System, path string) string {
	clean := filepath.Clean(path)
	if clean == path || !strings.Contains(path, "..") {
		return path
	}
	var as, is fs.FileInfo
	if Again(func() (err error) { as, err = sys.Stat(Folder(path)); return }) == nil &&
		Again(func() (err error) { is, err = sys.Stat(Folder(clean)); return }) == nil && sys.Same(as, is) {
		return clean
	}
	return path
}

// Folder gives the folder of a path as the path is written. filepath.Dir would take "rack/.." for nothing, and where rack
// is a symbolic link the system does not.
func Folder(path string) string {
	dir, _ := filepath.Split(path)
	root := len(filepath.VolumeName(dir)) + 1
	for len(dir) > root && os.IsPathSeparator(dir[len(dir)-1]) {
		dir = dir[:len(dir)-1]
	}
	if dir == "" {
		return "."
	}
	return dir
}

// Beside gives the path of a name in the folder of another path, or of a link's relative target there.
func Beside(path, name string) string {
	switch dir := Folder(path); {
	case dir == "." && filepath.Base(path) == path: // no folder was written, and none is needed
		return name
	case os.IsPathSeparator(dir[len(dir)-1]):
		return dir + name
	default:
		return dir + string(filepath.Separator) + name
	}
}
