// Package piece makes a cut list of a frame: the length from tip to tip and the two end cuts of every member, equal ones
// under one mark, hands told apart, and what is marked out on each.
package piece
