package file

import (
	"errors"

	"golang.org/x/sys/windows"
)

// Windows writes names through and has no call to sync a folder.
const foldersSync = false

// The lock lies far behind the data, because Windows' locks also keep readers out of the
// bytes they cover.
const lockAt = 0x7fff_0000

func (h osHandle) Lock(exclusive bool) error {
	flags := uint32(windows.LOCKFILE_FAIL_IMMEDIATELY)
	if exclusive {
		flags |= windows.LOCKFILE_EXCLUSIVE_LOCK
	}
	err := windows.LockFileEx(windows.Handle(h.Fd()), flags, 0, 1, 0, &windows.Overlapped{OffsetHigh: lockAt})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return ErrLocked
	}
	return err
}

func (h osHandle) Unlock() error {
	return windows.UnlockFileEx(windows.Handle(h.Fd()), 0, 1, 0, &windows.Overlapped{OffsetHigh: lockAt})
}
