// Package weld plans the arc inside the machine's rating: what the rating plate allows at the working current, how much
// metal and heat the seams take, which fillets the standards ask for, how the frame will pull, and a schedule in which the
// machine's rests are filled with work that is due.
//
// Read it in this order:
//
//   - plate.go    the rating plate: duty at a current, current at a duty (log-log between points, square law beyond)
//   - thermal.go  a first-order thermal model fitted to the plate, as a second view
//   - budget.go   the window rule: in every window of the plate's period no more arc than the duty allows
//   - docket.go   tasks (tack, arc, fit, clean, grind, turn, saw) and what must come before what
//   - bound.go    the lower bound on the elapsed time, and why it holds
//   - list.go     one pass of the scheduler; search.go what proves or betters it, improve.go by moving single tasks
//   - balance.go  how seams bow a frame about its neutral axis, which the order of the passes keeps even
//   - order.go    the worker's own order of joints and seams
//   - days.go     the same tasks over days of so many hours; live.go the state at the booth, remaining.go what is left,
//     timed anew from what happened
//   - metal.go heat.go buy.go setting.go  weld metal, wire and rods, heat input, what to buy, settings guide
//   - shrink.go pull.go  how seams shrink, and what the order of the passes does to the frame
//   - rates.go    the times of the work around the arc, the shop's own to set
//   - plan.go tasks.go  seams and a welder in, the tasks made from them, the whole plan out; json.go its JSON; compare.go several machines side by side
//
// Sizes and strengths of fillets stand in fab/seam, beside the cross-sections.
//
// Times are time.Duration (whole nanoseconds), measured from the start of the plan; no clock is read here.
package weld
