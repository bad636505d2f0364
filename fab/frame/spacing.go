package frame

import "bench.example/soapstone/fab/measure"

// MaxBars bounds the bars of one row.
const MaxBars = 10_000

// FewestBars gives the fewest bars, each so wide, that leave no gap wider than most in a clear length. Counted in whole
// nanometres, so that a length that is exactly filled is filled.
func FewestBars(clear, bar, most measure.Length) int {
	return int(ceilDiv(clear-most, bar+most))
}

// EvenGaps gives the gap between n bars of one width set into a clear length, gaps at both faces included, and the bars'
// centres from the first face, in mm. ok is false where they do not fit with a gap left.
func EvenGaps(clear, bar measure.Length, n int) (gapMM float64, centresMM []float64, ok bool) {
	left := clear - measure.Length(n)*bar
	if n < 0 || n > MaxBars || left < 0 || n > 0 && left == 0 {
		return 0, nil, false
	}
	gapMM = left.MM() / float64(n+1)
	centresMM = make([]float64, n)
	for i := range n {
		centresMM[i] = gapMM*float64(i+1) + bar.MM()*(float64(i)+0.5)
	}
	return gapMM, centresMM, true
}

func ceilDiv(a, b measure.Length) int64 {
	if a <= 0 {
		return 0
	}
	return (int64(a) + int64(b) - 1) / int64(b)
}
