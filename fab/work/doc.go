// Package work gives the record of work its meaning: the events of a job as typed values,
// their text, and the fold of many events into the state of the job.
//
// # The way of an event
//
// A window builds a value such as Cut, Encode gives its text, stock/record brings the text to
// the disk under an ID and a time, and only then the window hands text, ID and time to
// State.Apply and shows the new state. At the next start every text of the record goes
// through Apply in the same order. So a State is never stored, and cannot disagree with the
// record.
//
// # The rules of the fold
//
//   - The same ID applied twice counts once.
//   - Undo is an event too. It names the event that it undoes; if that one is already undone,
//     nothing changes. Two windows that undo the same cut therefore undo it once. To do
//     something again after an undo is a new event.
//   - A piece is known by its mark and unit. A spoiled piece makes its unit open again; the
//     steel that it took stays taken from its stick.
//   - An arc runs from ArcOn to the ArcOff that names it. One that has no end is shown as
//     open: somebody has to say when it stopped.
//   - A kind of event that this version does not know is counted and told, never an error.
//     A later version will read it.
//
// Memory is bounded by the steel and the joints of the job, not by the number of events: of
// notes, trips, arcs and recent events the latest are kept, totals of all.
//
// # The text
//
// One JSON object on one line, "v" first and the kind behind it:
//
//	{"v":1,"do":"cut","mark":"A","unit":3,"stick":"rail 2","from_nm":12700000,"to_nm":2451100000}
//
// Lengths are integer nanometres, times integer nanoseconds since 1970-01-01 UTC, IDs as
// ID.String gives them. Fields that are empty or zero are left out; fields that are not known
// are passed over. Encode gives one spelling to one event.
package work
