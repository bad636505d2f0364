package job

import (
	"fmt"
	"strings"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Limits on what a job may hold, far above any shop's: what is made of it must stay quick.
const (
	MaxTables = 2_000  // tables of one kind
	MaxBars   = 500    // bars of one [[crossbars]]
	MaxQty    = 10_000 // of one piece, item or plate
	MaxPieces = 20_000 // pieces, bars and sides of the whole job, as far as the tables tell
	MaxPoints = 2_000  // of one surface, or holes of one member
)

// File is a file as bytes, with the name that messages call it by.
type File struct {
	Name string
	Data []byte
}

// Reader reads jobs. The zero Reader checks sizes only as far as it can without tables; with a Catalogue it also checks
// every section's shape, size and grade against it.
type Reader struct {
	Catalogue *steel.Catalogue
}

// Read reads a job file, with the tables of shop files under it, without a catalogue. See Reader.Read.
func Read(name string, data []byte, shop ...File) (Job, []text.Problem) {
	return Reader{}.Read(File{name, data}, shop...)
}

// Read reads a job file: every table and key of the contract, and these keys beyond it:
//
//	[section.*]  try = ["2 x 1 x 14ga"]  other sizes to compare; in sticks also price_ft, supplier, date, or a plain length
//	[saw]        gang_cut = 4            sticks cut in one bundle
//	[[legs]]     over = "1/2in"          one foot left long, to be scribed
//	[surface.*]  smooth = "circle"       circle, cylinder or spline through measured points
//	[[member]]   lap = true              may run through others without a joint
//	[[piece]]    over, holes, same_stick = "NAME" (pieces of one name come from one stick)
//	[[plate]]    grade, price            [[item]]  at = ["gate.x1"]: what it hangs on
//	[welder]     derate = "80%", wfs, price (a day's), tack, hours_per_day; [welder.NAME]: a further machine of the shop
//	[[joint]]    kind = "lap", tack = true
//	[[load]] [[support]] [[combination]] [check]  see Load, Support, Combination, Check
//	[sequence]                                    see Sequence: the worker's own order at the booth
//	[[bolts]] [lift] [access]                     see Bolts, Lift, Access
//	[paint] [labour] [quote]                      see Paint, Labour, Quote
//
// Rectangles and members without a name are numbered: rectangle1, member1. The tables [saw], [welder], [section.*],
// [paint], [labour] and [quote] of the shop files stand under the job's own, key by key; bare numbers of a shop file are in that file's own units (inches
// where it names none).
//
// The problems are sorted by place; where one of them is an error the job is what could be understood, good for a drawing
// but not for a plan. Nothing in a file is ignored: what is not understood is an error.
func (r Reader) Read(file File, shop ...File) (Job, []text.Problem) {
	names := []string{file.Name}
	for _, s := range shop {
		names = append(names, s.Name)
	}
	rd := &reader{cat: r.Catalogue, Reading: text.NewReading(names...)}
	doc := rd.parse(file)
	var under []*text.Doc
	for _, s := range shop {
		if d := rd.parse(s); d != nil {
			rd.shopUnits(d)
			under = append(under, d)
		}
	}
	if doc == nil {
		return Job{Tape: measure.Sixteenths, Currency: defaultCurrency, Saw: defaultSaw()}, rd.Problems()
	}
	rd.readAll(doc, under)
	rd.names()
	rd.total()
	return rd.job, rd.Problems()
}

// readAll reads every table; names are not looked up yet.
func (rd *reader) readAll(doc *text.Doc, under []*text.Doc) {
	rd.top = rd.Top(doc)
	rd.jobKeys(doc)
	rd.shared = rd.Top(append([]*text.Doc{doc}, under...)...)
	rd.sections(under)
	rd.onHand()
	rd.saw()
	rd.rectangles()
	rd.crossbars()
	rd.posts()
	rd.legs()
	rd.surfaces()
	rd.members()
	rd.pieces()
	rd.plates()
	rd.items()
	rd.welder()
	rd.joints()
	rd.sequence()
	rd.loads()
	rd.supports()
	rd.combinations()
	rd.check()
	rd.bolts()
	rd.lift()
	rd.access()
	rd.paint()
	rd.labour()
	rd.quote()
	rd.top.Done()
	rd.shopRest(under)
}

const defaultCurrency = "USD"

// reader is one reading of one job.
type reader struct {
	*text.Reading
	cat    *steel.Catalogue
	job    Job
	top    *text.Fields // the job's own tables
	shared *text.Fields // the same with the shop's under them
	refs   []ref        // names to be looked up once everything is read
	pads   map[string]bool
	frames []*text.Fields // of the rectangles
	bodies []*text.Fields // of the members
}

func (rd *reader) parse(f File) *text.Doc {
	d, ps := text.Parse(f.Name, f.Data)
	for _, p := range ps {
		rd.Add(p)
	}
	return d
}

// jobKeys reads the keys at the top of the job.
func (rd *reader) jobKeys(doc *text.Doc) {
	f, j := rd.top, &rd.job
	j.Currency = defaultCurrency
	f.Text("title", &j.Title, 0)
	if rd.unit(f, &j.Units) {
		doc.Unit = j.Units
	}
	j.Tape = measure.Sixteenths
	if j.Units.Metric() {
		j.Tape = measure.Millimetres
	}
	var tape string
	if f.Choice("tape", &tape, 0, measure.TapeNames()...) {
		if t, err := measure.ParseTape(tape); err == nil {
			j.Tape = t
		}
	}
	var currency string
	if f.Name("currency", &currency, "", 0) {
		if len(currency) > 12 {
			f.Fault(text.CodeValue, "currency", "a currency is a short sign, such as USD")
		} else {
			j.Currency = currency
		}
	}
}

func (rd *reader) unit(f *text.Fields, to *measure.Unit) bool {
	var name string
	if !f.Choice("units", &name, 0, measure.UnitNames()...) {
		return false
	}
	u, err := measure.ParseUnit(name)
	if err != nil {
		return false
	}
	*to = u
	return true
}

func (rd *reader) shopUnits(d *text.Doc) {
	rd.unit(rd.Top(d), &d.Unit)
}

// shopRest reports what a shop file holds besides the tables that jobs share.
func (rd *reader) shopRest(shops []*text.Doc) {
	for _, d := range shops {
		f := rd.Top(d)
		f.Skip("units", "saw", "welder", "section", "paint", "labour", "quote")
		f.Done()
	}
}

// where gives the place of a table.
func where(f *text.Fields) Where {
	file, line, column := f.Place()
	given := f.Given()
	return Where{File: file, Line: line, Column: column, Key: f.Path(), given: &given}
}

// tables gives the tables of a kind, at most MaxTables of them.
func (rd *reader) tables(key string) []*text.Fields {
	ts := rd.top.Tables(key)
	if len(ts) > MaxTables {
		ts[MaxTables].Fault(text.CodeTooMuch, "", "more than %d of these tables; split the job", MaxTables)
		ts = ts[:MaxTables]
	}
	return ts
}

// total refuses jobs beyond MaxPieces.
func (rd *reader) total() {
	n := 4*len(rd.job.Rectangles) + len(rd.job.Members)
	for _, c := range rd.job.Crossbars {
		n += max(c.Count, len(c.At))
	}
	for _, p := range rd.job.Pieces {
		n += p.Qty
	}
	if n > MaxPieces {
		rd.top.Fault(text.CodeTooMuch, "", "the job makes %d pieces; more than %d are not planned at once: split the job", n, MaxPieces)
	}
}

// plain words an angle or length list in messages.
const (
	threeLengths = `[0, 0, "24in"]`
	twoAngles    = `[45, 45]`
)

// point reads a list of n lengths.
func point(f *text.Fields, v *text.Value, key string, n int, like string) ([]measure.Length, bool) {
	items := f.ListOf(v, key, n, n, like)
	if items == nil {
		return nil, false
	}
	out, ok := make([]measure.Length, 0, n), true
	for _, it := range items {
		l, good := f.LengthOf(it, key, 0)
		out, ok = append(out, l), ok && good
	}
	return out, ok
}

// angles reads a list of two angles, each within limit degrees of square.
func angles(f *text.Fields, key string, to *[2]float64, limit float64) bool {
	v := f.Take(key)
	if v == nil {
		return false
	}
	items := f.ListOf(v, key, 2, 2, twoAngles)
	if items == nil {
		return false
	}
	ok := true
	for i, it := range items {
		a, good := text.QuantityOf(f, it, key, 0, measure.ParseAngle)
		if good && (a >= limit || a <= -limit) {
			f.FaultAt(it, text.CodeValue, key, "%s cannot be: an end's angle from square lies between -%g and %g degrees", text.Short(it.Raw(), 40), limit, limit)
			good = false
		}
		if ok = ok && good; good {
			to[i] = a
		}
	}
	return ok
}

// only reports keys that exclude each other; it tells which one is given, "" for none or several.
func only(f *text.Fields, need bool, keys ...string) string {
	f.Skip(keys...)
	var given, own []string
	for _, k := range keys {
		if f.Has(k) {
			given = append(given, k)
		}
		if f.Own(k) {
			own = append(own, k)
		}
	}
	if len(own) > 0 { // the job's way overrides the shop's
		given = own
	}
	switch {
	case len(given) == 1:
		return given[0]
	case len(given) > 1:
		f.Fault(text.CodeConflict, given[1], "%s and %s exclude each other; keep one of them", given[0], given[1])
	case need:
		f.Fault(text.CodeMissing, "", "one of %s is missing", text.List(keys))
	}
	return ""
}

// words reads a list of texts, or one text alone.
func words(f *text.Fields, key, like string) (out []*text.Value) {
	v := f.Take(key)
	if v == nil {
		return nil
	}
	items := []*text.Value{v}
	if v.Kind == text.Array {
		items = f.ListOf(v, key, 0, MaxPoints, like)
	}
	for _, it := range items {
		if _, ok := f.TextOf(it, key); ok {
			out = append(out, it)
		}
	}
	return out
}

// numbered gives a table without a name the next free one: rectangle1, rectangle2 ...
func numbered(kind string, n int, taken map[string]bool) string {
	for ; ; n++ {
		if name := fmt.Sprintf("%s%d", kind, n); !taken[name] {
			taken[name] = true
			return name
		}
	}
}

// banned are the characters that names of members and tables cannot hold: they have a meaning where names are used.
const banned = ".@,[]\""

// trimmed cuts blanks off both ends.
func trimmed(s string) string { return strings.TrimSpace(s) }
