package file

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"syscall"
)

// Fault is a failure at a file: which file, in which step, why, and what is left now.
type Fault struct {
	Path  string
	Doing string // the step that failed: "writing the new text aside"
	Left  string // what the user still has, as a clause; may be empty
	Err   error
}

// Error gives all four in one line.
func (f *Fault) Error() string {
	s := fmt.Sprintf("%s: %s failed: %s", f.Path, f.Doing, Plain(f.Err))
	if f.Left != "" {
		s += "; " + f.Left
	}
	return s
}

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Err }

// Plain says an operating system's error in the words of somebody at a bench.
func Plain(err error) string {
	for _, p := range plain {
		if errors.Is(err, p.err) {
			return p.text
		}
	}
	var pe *fs.PathError
	if errors.As(err, &pe) { // the path is said already
		return pe.Err.Error()
	}
	return err.Error()
}

var plain = []struct {
	err  error
	text string
}{
	{syscall.ENOSPC, "the disk is full"},
	{syscall.EDQUOT, "your share of the disk is full"},
	{syscall.EROFS, "the disk can only be read"},
	{syscall.EIO, "the disk reports a fault (input/output error)"},
	{syscall.EISDIR, "it is a folder"},
	{syscall.ENOTDIR, "a part of the path is not a folder"},
	{syscall.ENAMETOOLONG, "the name is too long"},
	{syscall.EMFILE, "too many files are open"},
	{ErrLocked, "another process holds it"},
	{io.ErrShortWrite, "the disk took only a part of it"},
	{fs.ErrPermission, "no permission"},
	{fs.ErrNotExist, "it is not there"},
}
