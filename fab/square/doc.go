// Package square gets frames square and flat before they are welded: target diagonals, how far a frame is out of square
// from its two measured ones, how far it is in wind from four corner heights, the tolerances of ISO 13920, and the order of
// the steps.
package square
