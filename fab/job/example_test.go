package job_test

import (
	"fmt"

	"bench.example/soapstone/fab/job"
)

// A key that is not understood is an error with its place and what would be right; it is never passed over.
func ExampleRead() {
	j, problems := job.Read("rack.toml", []byte(`
title = "Paddle stand"
units = "in"
[section.rail]
shape = "square-tube"
size  = "1-1/2 x 11ga"
[[rectangle]]
name    = "base"
section = "rail"
length  = "4ft"
widht   = "20"
`))
	fmt.Println(j.Title, len(j.Rectangles))
	for _, p := range problems {
		fmt.Println(p.Long())
	}
	// Output:
	// Paddle stand 1
	// rack.toml:11: rectangle.widht: there is no key widht; did you mean width?
	//   11 | widht   = "20"
	//      | ^^^^^
}
