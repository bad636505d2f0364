//go:build !unix

package record

import "time"

func cpuTime() time.Duration { return 0 }
