// Package seam turns the joints of a frame into the seams that hold it: for each stretch of a contact's rim the type of
// weld in the terms of AWS A3.0 and ISO 2553, its leg or groove depth, its length, the position in which the frame lies at
// that stage, what keeps a torch from it, and in how many passes it is laid. It also decides the stages: sub-frames flat on
// the bench, joined, turned over, with as few turns as the seams allow.
//
// size.go holds the limits of fillet sizes and their strength (AWS D1.1, AISC 360), section.go the cross-sections of weld
// metal; both stand on their own and serve the small sums too.
//
// Lengths are mm, angles degrees, strengths N and MPa.
package seam
