package piece_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/frame/frametest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/space"
)

// TestRoundCornersMoved: posts that stand over the corners of round rails, saddled onto two of them at once, are the same
// pieces however the frame lies, and all of one mark but for the hand.
func TestRoundCornersMoved(t *testing.T) {
	for _, corner := range []string{"mitre", "butt-long"} {
		toml := fmt.Sprintf(`
[section.pipe]
shape = "round-tube"
size = "2 x 11ga"
[[rectangle]]
name = "a"
section = "pipe"
length = 60
width = 30
corner = %[1]q
[[rectangle]]
name = "b"
section = "pipe"
length = 60
width = 30
above = "a"
clear = 24
corner = %[1]q
[[posts]]
from = "a"
to = "b"
section = "pipe"
`, corner)
		j := frametest.Read(t, toml)
		f, problems := frame.Build(j, frametest.Sections(t, j))
		for _, p := range problems {
			t.Error(p)
		}
		before, _ := piece.Gather(f, j)
		letters := map[byte]bool{}
		for i := range before {
			for _, m := range before[i].Members {
				if f.Members[f.Index(m)].Role == frame.Post {
					letters[before[i].Mark[0]] = true
				}
			}
		}
		if len(letters) != 1 {
			t.Errorf("%s: the posts have the marks\n%s", corner, list(before))
		}
		r := rand.New(rand.NewPCG(4, 4))
		for range 20 {
			at, dir := anywhere(r, space.Vec{X: 1000, Y: -333, Z: 77}, false)
			after, _ := piece.Gather(frametest.Move(f, at, dir, false), j)
			if why := differ(before, after); why != "" {
				t.Fatalf("%s: %s", corner, why)
			}
		}
	}
}
