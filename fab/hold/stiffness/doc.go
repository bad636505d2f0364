// Package stiffness analyses frames of straight bars in space by the direct stiffness method.
//
// A Model holds joints (Node) and prismatic bars (Bar).  Every joint has six degrees of freedom: the displacements
// along the global axes x, y, z and the rotations about them, right-handed.  Every bar is a beam element of twelve
// degrees of freedom: axial, torsion (Saint-Venant, no warping), and bending in its two principal planes.  Material and
// geometry are linear: small displacements, no buckling except through Buckling.  Shear deformation counts where a shear area is given
// (Bar.ShearY, Bar.ShearZ) and is left out where it is zero.
//
// # Units
//
// Any consistent set: N, mm, MPa and N·mm; or kip, inch, ksi; or kN, m, kPa.  Results come in the same set.
//
// # Local axes
//
// x' runs from the bar's From end to its To end, z' towards Up (square to x', in the plane of x' and Up), y' = z' x x'.
// Iy resists bending about y' (deflection along z'), Iz bending about z' (deflection along y').  End forces are what
// the joints do to the bar, in local axes, at the ends of the bar's clear length: Fx Fy Fz Mx My Mz at From, then at To.
// So a bar in tension has a negative Fx at From and a positive one at To.
//
// # Method
//
// Element stiffness with interdependent shape functions (Przemieniecki, Theory of Matrix Structural Analysis, 1968,
// ch. 5); releases by static condensation; rigid end offsets by transformation; fixed-end forces by integrating the load
// against the shape functions, exact for loads that vary linearly.  The equations are solved by a multifrontal LDL^T
// (Duff and Reid, ACM TOMS 9 (1983) 302) in the order of approximate minimum degree (Amestoy, Davis, Duff, SIAM J.
// Matrix Anal. Appl. 17 (1996) 886), with iterative refinement against residuals that are summed bar by bar.
//
// # Mechanisms
//
// A frame that can move without straining any bar has no answer.  A pivot that all but vanishes makes its freedom a
// suspect; the motion that belongs to it is computed, and where the strain energy of that motion is nothing but rounding,
// Solve returns a *MechanismError which names joint and direction.  A rotation that no bar resists at all (a joint of
// pinned bars only) is no mechanism while nothing turns it: it is given as zero.
package stiffness
