// Package hold says how hard a frame is worked by its loads: beams and columns by formula, whole frames by the stiffness
// method (package stiffness below it), and the check of each member against ANSI/AISC 360 by allowable strength.
//
// The way through the package: Beam and Euler answer the small sums of the bench. For a frame, Analyse takes a Model of
// members, supports and loads in millimetres and newtons and gives an Answer: displacements, reactions, and for each
// member the worst utilisation with the clause that governs. FromFrame makes that Model out of a job's frame, Welds the stress on the throats of
// its seams, Try the same frame with other sizes of a section.
//
// What it does not do: fatigue, impact beyond the factors asked for, connections other than the throat of the welds,
// lateral-torsional buckling of open sections beyond what Checks says, soil, anchors. It never says that a frame is safe:
// where people can be under, on or in the way of it, a licensed engineer takes over.
package hold
