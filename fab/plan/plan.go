// Package plan is the only room that sees all the others: it leads one job through them, in the order in which steel goes
// through a shop, and gathers what they find.
//
//	job -> frame -> pieces -> sticks -> queue at the saw
//	frame -> seams -> weld sessions
//	frame -> weight, loads, lift, hardware, paint
//	all -> price
//
// Build is pure: tables, shelf, record of work and the time come in as values, the limit of the search as a context.
package plan

import (
	"context"
	"fmt"

	"bench.example/soapstone/fab/bolt"
	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/cut"
	"bench.example/soapstone/fab/frame"
	"bench.example/soapstone/fab/hold"
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/lift"
	"bench.example/soapstone/fab/mass"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/piece"
	"bench.example/soapstone/fab/price"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/weld"
	"bench.example/soapstone/fab/work"
)

// Input is everything that a plan is made from.
type Input struct {
	Marks  map[string]string // marks that pieces had before, by Identity: they keep them where they can
	Job    *job.Job
	Steel  steel.Catalogue
	Shelf  []Drop       // drops and sticks on the shop's own list
	Work   *work.State  // what the record of work says; nil: nothing was done
	Welder string       // the machine to plan with, by name; "": the job's own
	Rates  *cut.Rates   // nil: the usual ones
	Effort int          // for nest.Options
	Book   *book.Book   // the shop's price book; nil: none
	Today  book.Day     // 0: not known, and no price is called old
	Past   []price.Past // what the last jobs really took
	Report func(Stage)  // told what is being worked on; may be nil
}

// Stage is what Build is at, for a screen that waits.
type Stage struct {
	Doing string
	Nest  *nest.Nest // the best nest so far of the section being nested
}

// Drop is a length of the shop's own list.
type Drop struct {
	Section steel.Section
	Length  measure.Length
	Ends    [2]float64
	Qty     int
}

// Plan is a job worked out.
type Plan struct {
	Trade       // paint, hours, price
	Job         *job.Job
	Problems    []text.Problem
	Notes       []string // what was taken for granted: the usual grade, a default kerf
	Sections    map[string]steel.Section
	Frame       *frame.Frame
	Pieces      []piece.Piece
	Nests       []SectionNest
	YardCuts    int // partings by the yard, each charged [saw] yard_cut
	Buy         []Purchase
	Queue       cut.Queue
	Weld        *weld.Plan // nil where the job has no welder
	Bead        *Bead      // the scrap put aside for the test beads; nil where nothing is welded
	Machines    []Machine  // every machine beside the other, where there are several
	Mass        *mass.Sheet
	Loads       *hold.Answer            // nil where the job asks for none
	LoadWelds   []hold.WeldAnswer       // throat stress of each joint's welds
	Tried       map[string][]hold.Tried // other sizes of a section, the present one first
	TryCosts    map[string][]TryCost    // what those sizes cost
	Bolts       []bolt.Set
	Lift        *lift.Answer
	Bundles     []cut.Bundle          // what the queue was made from, index for index with Nests
	Done        Done                  // what was done before this plan
	Measured    map[string][]Measured // of each mark that is cut to fit: the pieces measured in their place
	MassKG      float64               // of the steel in the frame and the loose pieces
	Today       book.Day              // for which prices are looked at
	Prices      []BookUse             // of the price book, and dated ones of the job
	Received    []Purchase            // what came from the yard already, at what it cost
	Haul        []HaulCost            // what the haul limit costs, by section
	Seams       []SeamCost            // what keeping the tube's own seam to one face costs, a section each
	book        *book.Book
	receipts    []work.Receipt
	Renamed     bool // some pieces keep marks that are not those of their order (see MarksOf)
	names       map[[2]int]string
	askedJoints []job.Joint // the [[joint]]s as written, where some name marks
	catalogue   steel.Catalogue
	loadModel   *hold.Model
}

// Failed tells whether the job cannot be built as written.
func (p *Plan) Failed() bool {
	for _, x := range p.Problems {
		if x.Severity == text.Error {
			return true
		}
	}
	return false
}

func (p *Plan) add(problems ...text.Problem) { p.Problems = append(p.Problems, problems...) }

func (p *Plan) note(format string, args ...any) {
	p.Notes = append(p.Notes, fmt.Sprintf(format, args...))
}

// Build works out a job. Where it cannot be built as written, Problems holds at least one error and no later part of the
// plan is filled in. A context that ends leaves the best nests so far, not proven.
func Build(ctx context.Context, in Input) *Plan {
	p := &Plan{Job: in.Job, catalogue: in.Steel}
	report := in.Report
	if report == nil {
		report = func(Stage) {}
	}
	report(Stage{Doing: "sections"})
	p.sections(in.Steel)
	if p.Failed() {
		return p
	}
	p.takeBook(in)
	p.takeReceipts(in.Work)
	in.Job = p.Job
	if in.Work != nil {
		p.Done = DoneOf(in.Work, in.Job.Saw.Kerf, p.Lean)
	}
	report(Stage{Doing: "frame"})
	var problems []text.Problem
	framed := len(p.Problems)
	p.Frame, problems = frame.Build(in.Job, p.Sections)
	p.add(problems...)
	if p.Failed() {
		return p
	}
	p.Pieces, problems = piece.Gather(p.Frame, in.Job)
	as, orphans := keepMarks(p.Pieces, in.Job, in.Work, in.Marks)
	if len(as) > 0 {
		p.Pieces, problems = piece.GatherAs(p.Frame, in.Job, as)
		p.Renamed = true
	}
	for _, m := range orphans {
		p.note("%s was cut before the job was changed and fits nothing in it now: it is spare", m)
	}
	p.add(problems...)
	gathered := len(p.Problems)
	if p.Failed() {
		return p
	}
	if j, any := p.byMark(in.Job); any {
		before := p.Pieces
		p.askedJoints, in.Job, p.Job = in.Job.Joints, j, j
		p.Frame, problems = frame.Build(j, p.Sections)
		p.Problems = append(p.Problems[:framed:framed], append(problems, p.Problems[gathered:]...)...)
		p.Pieces, problems = piece.GatherAs(p.Frame, j, as)
		p.add(problems...)
		p.marksHeld(before)
		if p.Failed() {
			return p
		}
	}
	p.weigh()
	report(Stage{Doing: "nest"})
	p.nest(ctx, in, report)
	if p.Failed() {
		p.Nests, p.Buy = nil, nil
		return p
	}
	report(Stage{Doing: "haul"})
	p.haulCosts(ctx, in)
	p.seamCosts(ctx, in)
	p.queue(in)
	report(Stage{Doing: "weld"})
	p.weld(in)
	p.tellWaits(in.Work)
	report(Stage{Doing: "loads"})
	if !p.Failed() {
		p.coat()
		p.stand()
		p.bookBolts()
		p.billReceipts()
		p.oldPrices()
	}
	if !p.Failed() {
		p.TryCosts = p.tryCosts(ctx, in)
		p.money(ctx, in)
	}
	return p
}

// sections makes the steel of every section of the job.
func (p *Plan) sections(cat steel.Catalogue) {
	p.Sections = map[string]steel.Section{}
	for _, s := range p.Job.Sections {
		shape, err := steel.ParseShape(s.Shape)
		if err == nil {
			var sec steel.Section
			sec, err = steel.New(steel.Spec{Shape: shape, Size: s.Size, Grade: s.Grade, Unit: p.Job.Units}, cat)
			p.Sections[s.Name] = sec
			if err == nil && sec.UsualGrade {
				p.note("section %s: no grade given; %s taken, the usual one of this shape", s.Name, sec.Grade.Name)
			}
		}
		if err != nil {
			p.add(s.Where.In("size").Problem(text.Error, text.CodeValue, err.Error()))
		}
	}
	if !p.Job.Saw.KerfGiven {
		p.note("no kerf given; %s taken", p.Job.Tape.Print(p.Job.Saw.Kerf))
	}
}

func (p *Plan) weigh() {
	for _, x := range p.Pieces {
		p.MassKG += x.MassKG * float64(x.Qty)
	}
}
