package stiffness

import (
	"runtime"
	"testing"
)

// TestFaultOfAWorker: a fault in a worker reaches the caller, where it can be caught.
func TestFaultOfAWorker(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	const n, w = 1000, 8
	defer func() {
		if recover() == nil {
			t.Error("nothing was raised")
		}
	}()
	trail(make([]float64, n*n/2), n, 0, make([]float64, n*w), make([]float64, n*w), w)
}
