package steel

import (
	"fmt"
	"strings"
)

// Shape is the kind of cross-section.
type Shape int

// The shapes that a job may name.
const (
	NoShape Shape = iota
	RectTube
	SquareTube
	RoundTube
	Pipe
	Angle
	Channel
	Flat
	RoundBar
	SquareBar
)

var shapes = [...]struct{ name, size, example string }{
	RectTube:   {"rect-tube", "depth x width x wall", "2-1/2 x 1-1/2 x 11ga"},
	SquareTube: {"square-tube", "side x side x wall", "2 x 2 x .120"},
	RoundTube:  {"round-tube", "diameter x wall", "1-1/2 x 16ga"},
	Pipe:       {"pipe", "nominal size and schedule", "1-1/4 sch40"},
	Angle:      {"angle", "leg x leg x thickness", "2 x 2 x 1/4"},
	Channel:    {"channel", "depth x width x web, or x web x flange, or its name", "4 x 1-3/4 x 3/16"},
	Flat:       {"flat", "width x thickness", "3 x 1/4"},
	RoundBar:   {"round-bar", "diameter", "3/4"},
	SquareBar:  {"square-bar", "side", "1/2"},
}

// ShapeNames lists what ParseShape accepts.
func ShapeNames() []string {
	names := make([]string, 0, len(shapes))
	for _, s := range shapes[RectTube:] {
		names = append(names, s.name)
	}
	return names
}

// ParseShape reads the name of a shape as the job file writes it.
func ParseShape(text string) (Shape, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	for i, s := range shapes {
		if i != int(NoShape) && s.name == t {
			return Shape(i), nil
		}
	}
	return NoShape, fmt.Errorf("shape %q is not known; there are: %s", text, strings.Join(ShapeNames(), " "))
}

// String gives the shape's name as the job file writes it.
func (s Shape) String() string {
	if s <= NoShape || int(s) >= len(shapes) {
		return "no shape"
	}
	return shapes[s].name
}

// SizeForm says what a size of this shape consists of: "depth x width x wall".
func (s Shape) SizeForm() string { return shapes[s].size }

// SizeExample gives a size of this shape as one would write it.
func (s Shape) SizeExample() string { return shapes[s].example }

// Hollow tells whether the shape encloses a space: tube and pipe.
func (s Shape) Hollow() bool { return s >= RectTube && s <= Pipe }

// Round tells whether the shape is a body of revolution.
func (s Shape) Round() bool { return s == RoundTube || s == Pipe || s == RoundBar }
