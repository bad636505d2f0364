package measure

import (
	"fmt"
	"math"
)

// Fine prints what is finer than the tape's marks (a wall, a leg, a sag; in mm): thousandths of an inch with an inch tape, `0.083"`,
// hundredths of a millimetre with a metric one, `2.11 mm`.
func (t Tape) Fine(mm float64) string {
	if t.Metric() {
		return fmt.Sprintf("%.4g mm", math.Round(mm*100)/100+0)
	}
	return fmt.Sprintf(`%.3f"`, math.Round(mm/InchMM*1000)/1000+0)
}

// Mass prints a mass in kg: pounds with an inch tape, kilograms with a metric one.
func (t Tape) Mass(kg float64) string {
	if t.Metric() {
		return fmt.Sprintf("%.1f kg", kg)
	}
	return fmt.Sprintf("%.1f lb", kg/PoundKG)
}

// Force prints a force in N: pounds with an inch tape, newtons with a metric one.
func (t Tape) Force(n float64) string {
	if t.Metric() {
		return fmt.Sprintf("%.0f N", math.Round(n)+0)
	}
	return fmt.Sprintf("%.0f lb", math.Round(n/PoundN)+0)
}

// Stress prints a stress in MPa: thousands of pounds a square inch with an inch tape, MPa with a metric one.
func (t Tape) Stress(mpa float64) string {
	if t.Metric() {
		return fmt.Sprintf("%.0f MPa", math.Round(mpa)+0)
	}
	return fmt.Sprintf("%.1f ksi", mpa/KsiMPa)
}
