package look

import "math"

// Luminance is the relative luminance of an sRGB colour, its parts from 0 to 1 (WCAG 2.2, "relative luminance").
func Luminance(r, g, b float64) float64 {
	c := func(f float64) float64 {
		if f <= 0.04045 {
			return f / 12.92
		}
		return math.Pow((f+0.055)/1.055, 2.4)
	}
	return 0.2126*c(r) + 0.7152*c(g) + 0.0722*c(b)
}

// Contrast is the contrast ratio of two luminances (WCAG 2.2, "contrast ratio").
func Contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }
