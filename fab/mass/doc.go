// Package mass weighs a frame: by member, piece, mark, section and whole, with its centre of mass, moments of inertia and
// bounds, and says how the weight falls on points that hold it.
//
// Two weights are kept apart: the steel of the frame (members and plates), which loads and reactions are reckoned with, and
// the whole as it is hoisted, with weld metal, paint and hardware. Members are reckoned as prisms of their section between
// their end cuts, by the nominal wall; holes and corner fillets of mitres are not taken off.
package mass
