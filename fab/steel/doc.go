// Package steel turns a shape and a size ("rect-tube", "2-1/2 x 1-1/2 x 11ga") into a Section: exact outside dimensions,
// wall and corner radii, the outline as polygons, the symmetry that says how a piece may be rolled and turned, and the
// properties that weight, strength and paint are reckoned with.
//
// The way through the package: a Catalogue (gauges, pipe sizes, grades; package stock/table fills it) and a Spec (what the
// job says) go into New, which gives a Section or an error that names the part of the size that is wrong. The Section's
// Figures are its properties with formula, inputs and source; Properties is the same as plain numbers.
//
// # Axes
//
// Local coordinates are y along the depth and z along the width, in millimetres, with the origin at the centre of the
// bounding rectangle of the section (not at the centroid; CentroidYMM and CentroidZMM say where that is: zero for
// everything but angles and channels). The first number of a size is the depth, the second the width: a flat of
// 3 x 1/4 is 3 in deep and 1/4 in wide, an angle of 3 x 2 x 1/4 has its 3 in leg along the depth.
// An angle's heel is at least y and least z; a channel's web is at least z, its flanges point to +z.
//
// Ix, Sx, Zx, rx belong to bending about the axis across the depth (the integral of y squared), Iy and its kin to bending
// about the axis across the width.
//
// # Walls
//
// Mass and outline always come from the nominal wall. Properties for strength may be asked with the design wall, which
// ANSI/AISC 360-22 B4.2 sets to 0.93 of the nominal one for tube made to standards that allow a thin wall (ASTM A500).
package steel
