// Package frame turns the tables of a job into members in space, finds where they meet, and cuts their ends to each other.
//
// A Member is a centre line from A to B with a section and a local frame: Axis from A to B, Depth and Width along the
// section's depth and width, right-handed (Axis x Depth = Width). The centre line runs through the centre of the section's
// bounding rectangle. Its ends are cuts: one plane, two planes (a point), a notch (cope) or a saddle on round tube. The
// solid of a member is the prism of its section between its cuts.
//
// A Joint is where members meet; its contacts are the flat areas in which their faces touch, with the edges along which a
// seam can run. Whatever the tables of a job made a member from, joints are found from the solids alone.
//
// # The way of a frame
//
// Build expands rectangles, crossbars, posts, legs and members (rectangle.go to members.go), decides the ends that were left to it
// (ends.go), finds the joints with a grid over space (joints.go), and says what does not fit (fit.go).
//
// # Which end cut wins
//
// An end named in the job is cut as named. The ends of a table's members follow from the table: a rectangle's corner, a bar
// between two sides, a post between two frames, a leg on its surface. For 'auto', in this order:
//
//  1. It meets the end of one other member: both mitre, on the plane that halves their angle.
//  2. It meets the ends of two or more: each pair's halving plane cuts it, so that it ends in a point.
//  3. It meets the side of a round member: a saddle. (An upright over the corner of two round sides is saddled to both.)
//  4. It meets the side of one member: it butts on the face that its centre line reaches first, whatever the angle.
//  5. It meets the sides of two at a corner: a point, one cut for each.
//  6. Of two members whose ends lie in each other's sides the later one in the file is cut to the earlier.
//  7. It meets nothing: a square cut through the end of the centre line, and a warning.
package frame
