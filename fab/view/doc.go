// Package view draws a frame: as strokes for a screen, as SVG with dimensions for paper, and as 1:1 wrap templates for
// ends that no saw cuts.
//
// A View looks at the frame from one side; Draw projects every member's edges into strokes in millimetres, far ones first,
// each with its nearness so that what is near can be drawn to read as near. Edges on the far side of their own member are
// left out; lines hidden by other members are not.
package view
