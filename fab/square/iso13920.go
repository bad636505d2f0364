package square

import "strings"

// Classes of ISO 13920 for lengths and angles of welded work, finest first.
var Classes = []string{"A", "B", "C", "D"}

// Source of the tolerances.
const ISO13920 = "ISO 13920:1996, Tables 1 and 2"

// table 1: least nominal size of a column in mm (more than), and the tolerance of each class in mm.
var lengths = []struct {
	over float64
	tol  [4]float64
}{
	{0, [4]float64{1, 1, 1, 1}},
	{30, [4]float64{1, 2, 3, 4}},
	{120, [4]float64{1, 2, 4, 7}},
	{400, [4]float64{2, 3, 6, 9}},
	{1000, [4]float64{3, 4, 8, 12}},
	{2000, [4]float64{4, 6, 11, 16}},
	{4000, [4]float64{5, 8, 14, 21}},
	{8000, [4]float64{6, 10, 18, 27}},
	{12000, [4]float64{7, 12, 21, 32}},
	{16000, [4]float64{8, 14, 24, 36}},
	{20000, [4]float64{9, 16, 27, 40}},
}

// table 2: least length of the shorter leg in mm (more than); tolerance in minutes of an angle and in mm a metre.
var angles = []struct {
	over    float64
	minutes [4]float64
	perM    [4]float64
}{
	{0, [4]float64{20, 45, 60, 90}, [4]float64{6, 13, 18, 26}},
	{400, [4]float64{15, 30, 45, 75}, [4]float64{4.5, 9, 13, 22}},
	{1000, [4]float64{10, 20, 30, 60}, [4]float64{3, 6, 9, 18}},
}

func class(name string) int {
	for i, c := range Classes {
		if strings.EqualFold(c, name) {
			return i
		}
	}
	return -1
}

// LengthTolerance gives the tolerance in mm, plus or minus, on a length by ISO 13920 Table 1; ok is false for a class that
// it does not have.
func LengthTolerance(name string, mm float64) (tol float64, ok bool) {
	c := class(name)
	if c < 0 {
		return 0, false
	}
	for _, row := range lengths {
		if mm > row.over {
			tol = row.tol[c]
		}
	}
	return tol, true
}

// AngleTolerance gives the tolerance on an angle by ISO 13920 Table 2, from the length of its shorter leg: degrees, and
// the same in mm a metre of that leg.
func AngleTolerance(name string, shorterMM float64) (deg, perM float64, ok bool) {
	c := class(name)
	if c < 0 {
		return 0, 0, false
	}
	for _, row := range angles {
		if shorterMM > row.over {
			deg, perM = row.minutes[c]/60, row.perM[c]
		}
	}
	return deg, perM, true
}
