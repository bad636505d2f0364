//go:build unix && !solaris && !aix

package file

import (
	"errors"
	"syscall"
)

const foldersSync = true

func (h osHandle) Lock(exclusive bool) error {
	how := syscall.LOCK_SH
	if exclusive {
		how = syscall.LOCK_EX
	}
	err := syscall.Flock(int(h.Fd()), how|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return ErrLocked
	}
	return err
}

func (h osHandle) Unlock() error { return syscall.Flock(int(h.Fd()), syscall.LOCK_UN) }
