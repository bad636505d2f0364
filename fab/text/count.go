package text

import "fmt"

// Count writes a number with its word: 1 stick, 2 sticks.
func Count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}
