package main

import (
	"os"
	"testing"

	"golang.org/x/sys/unix"
)

// modes are the flags of a terminal that a raw screen changes.
func modes(t *testing.T, tty *os.File) [4]uint32 {
	t.Helper()
	a, err := unix.IoctlGetTermios(int(tty.Fd()), unix.TCGETS)
	if err != nil {
		t.Fatal(err)
	}
	return [4]uint32{a.Iflag, a.Oflag, a.Cflag, a.Lflag}
}
