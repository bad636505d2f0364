// Package cut turns nests into the queue at the saw: every stick loaded, trimmed and cut in an order that resets the
// swing and the stop as seldom as it can, with the distances that are marked on the two edges of the face.
//
// # How a stick lies
//
// The stick lies with its across face towards the worker, its first end at the left. The near edge is the face's bottom
// edge, the far edge its top edge. A line with a positive swing leans with its far edge towards the stick's first end.
// So a right end's number is the swing that cuts it, and a left end's number is that swing with the other sign.
//
// Distances run from the fresh end's tip, that is from the last cut, so that no error of one piece passes to the next.
//
// # Order
//
// Pieces of a stick may change places only where the planes of the cuts stay as the nest has them; then nothing changes
// but the order. Sticks may come in any order. Arrange weighs a new swing far heavier than a new stop, because a swing is
// proved on scrap each time.
package cut
