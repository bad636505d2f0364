// Package bolt sizes the bolts that hold a frame down: thread and stress area, strength by grade, tightening torque, hole
// and drill sizes, the length that a grip stack calls for, and the check of a bolt under tension and shear.
//
// The way through the package: ParseSize and ParseGrade read what the worker wrote ("3/8-16", "M10", "5", "8.8"); Tighten
// gives area, proof and tensile load, clamp force and torque; Holes gives clearance and tap drills; Stack.Length gives the
// bolt to buy. Every result is a figure with its formula and source.
//
// A torque is a poor measure of tension: for one torque the preload scatters by a quarter or more either way, and oil or
// wax on a thread that was meant to be dry stretches the bolt far beyond what was wanted. The figures say which friction
// they assume. Anchors into concrete or masonry are not sized here: their strength is the maker's and the ground's.
package bolt
