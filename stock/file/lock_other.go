//go:build !windows && (!unix || solaris || aix)

package file

import "errors"

const foldersSync = false

func (osHandle) Lock(bool) error { return errors.ErrUnsupported }
func (osHandle) Unlock() error   { return nil }
