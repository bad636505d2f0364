// Package cutstock solves the one-dimensional cutting-stock problem with several kinds of stick exactly: integers in,
// a plan of least cost and a proven lower bound out. It knows sizes, lengths, costs and limits, and nothing of steel:
// a kerf is the caller's (capacity = length + kerf, size = piece + kerf). With one unlimited stock of cost 1 it is the
// classical cutting-stock or bin-packing problem.
//
// How a run goes:
//
//  1. reduce: equal kinds are merged, sizes divided by their common divisor, capacities lowered to sums that pieces can
//     reach, dominated stocks dropped, pieces whose place is certain set aside.
//  2. greedy plans, several ways; a volume bound. Most easy jobs end here.
//  3. column generation (Gilmore and Gomory, Oper. Res. 9, 1961): the restricted master is solved by package lp, the
//     duals are rounded down to integers and priced by an exact bounded knapsack. The bound that comes from those
//     integer duals (Lagrange and Farley, Oper. Res. 38, 1990) is exact integer arithmetic: a floating-point slip can make
//     it weaker, never false. It is rounded up to the next cost that whole sticks can add up to.
//  4. several lengths with prices: mixes of stick counts from the cheapest upwards, each asked whether the pieces go into
//     it; a no by the duals is an inequality over the counts that forbids other mixes too. Most priced jobs end here.
//  5. diving: columns are fixed one after the other, the rest is priced anew.
//  6. enumeration: with a plan of cost U in hand only patterns whose reduced cost is below the gap can be part of a
//     better one. Where they are few, all are listed and the rest of the proof happens over that list. Over listed
//     patterns cuts are added: at most one stick holds two or more of three single pieces (triple.go).
//  7. branch and price: pairs of pieces share a stick or do not (Ryan and Foster 1981), the number of sticks of a kind is
//     at most or at least n.
//
// The search is anytime: when its context ends, the best plan and the best bound so far are returned, Proven false.
// Every answer is recounted by Verify before it is returned.
package cutstock
