// Package nest lays pieces on sticks: provably the least money, mitred ends included.
//
// It knows lengths and cut planes, nothing of steel. A piece is a length from tip to tip and the planes of its two ends,
// in every way in which it may lie (rolled, turned end for end). A stick is a length with a price, perhaps a limit, and,
// where it is a drop, the planes of its own ends.
//
// # What a stick holds
//
// The plane of a cut crosses the stick at x = x0 + SY*y + SZ*z, y over the section's depth, z over its width. Two pieces
// side by side stand as close as leaves kerf*max(1/cos a, 1/cos b) along the stick between their planes everywhere in
// the section's rectangle; parallel planes so share one cut. As the planes are few, what a joint of two neighbours costs
// is a small table of integers (nanometres, see joints.go), and a stick holds an order of pieces when
//
//	trim + sum of lengths + sum of joints + what the first and last ends need  <=  length - trim_end.
//
// Joints may be negative: the tips of mitred neighbours pass each other.
//
// # The objective
//
// In order: least money for sticks (length, where none has a price), least material consumed, longest single drop, least
// work at the saw. Money is proven: a bound in integers that no rounding of a float can lift above the truth. For
// material and drop the nest says whether they are proven or how far off they can be.
//
// # The way of an answer
//
// Solve checks the job (problem.go), gathers equal pieces, tabulates the joints, and has a first nest at once. Square
// jobs go to package cutstock; jobs with mitres, unsquare drops, a grip, a haul limit or pieces that belong together go
// to the engine of this package: column generation with exact pricing, then all columns that can still improve the best
// nest and a search over them.
package nest
