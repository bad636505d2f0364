// Package lp solves the linear programs that column generation asks for:
//
//	least cost.x  subject to  A x {>=, <=, =} b,  x >= 0
//
// over a sparse matrix that grows by columns and rows between solves. It is a revised simplex: the basis is held as a
// sparse LU factorisation (left-looking elimination after Gilbert and Peierls, SIAM J. Sci. Stat. Comput. 9, 1988)
// with a product-form eta file on top, refactored now and then. After columns were added the last basis is still
// primal feasible and the primal method goes on from it; after rows or right-hand sides changed it is still dual
// feasible and the dual method does; Solve picks by itself, and where a basis is neither, it shifts costs until the
// dual method may run, takes the shifts back and ends with the primal method.
//
// All numbers are float64 and carry the usual rounding. A caller that needs a proof takes the duals as a suggestion,
// rounds them to integers and bounds with those; package cutstock does so.
package lp
