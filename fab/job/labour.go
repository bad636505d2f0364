package job

import (
	"time"

	"bench.example/soapstone/fab/measure"
)

// Pace is one of the times that the hours of a job are reckoned with: the shop's own to set in [labour].
type Pace int

// Paces, in the order in which steel goes through a shop.
const (
	PaceOffice Pace = iota
	PaceErrand
	PaceSetup
	PaceLoad
	PaceSwing
	PaceProve
	PaceStop
	PaceHandle
	PacePattern
	PaceLine
	PaceDeburr
	PaceMark
	PaceCope
	PaceHole
	PacePlate
	PacePrepBright
	PacePrepScale
	PacePrepOiled
	PacePrepPrimed
	PacePrepZinc
	PaceFit
	PaceFitMember
	PaceSquare
	PaceTurn
	PacePass
	PacePassLength
	PaceBrush
	PaceDress
	PaceSurface
	PacePaintSetup
	PacePaint
	PaceCap
	PaceBolt
	PaceOut
	PaceCount int = iota
)

// PaceInfo says what a pace is: its key, its stated default, what it is for, and where the default comes from. A default of
// zero is worked out from something else, as Per says.
type PaceInfo struct {
	Key    string
	Usual  time.Duration
	Per    string
	Source string
	Shared bool // does not grow with the number of frames made at one go
}

// Sources of the defaults.
const (
	roundFigure = "common practice: a round figure, the shop's to replace"
	nzRate      = "New Zealand production-rate reference, workshop fabrication"
)

// Info gives what a pace is.
func (p Pace) Info() PaceInfo { return paces()[p] }

func paces() [PaceCount]PaceInfo {
	m, s := time.Minute, time.Second
	return [PaceCount]PaceInfo{
		PaceOffice:     {"office", 30 * m, "the job: measuring up, quoting, paper", roundFigure, true},
		PaceErrand:     {"errand", 45 * m, "the job: to the yard and back", roundFigure, true},
		PaceSetup:      {"setup", 30 * m, "the job: bench and jig made ready, tidied after", roundFigure, true},
		PaceLoad:       {"saw_load", 60 * s, "a stick into the saw", roundFigure, false},
		PaceSwing:      {"saw_swing", 45 * s, "a new swing, without its proof", roundFigure, false},
		PaceProve:      {"saw_prove", 3 * m, "a swing proved on scrap", roundFigure, false},
		PaceStop:       {"saw_stop", 30 * s, "a new stop", roundFigure, false},
		PaceHandle:     {"saw_handle", 30 * s, "a cut: advance, clamp, take off", roundFigure, false},
		PacePattern:    {"saw_pattern", 45 * s, "the first of a mark measured", roundFigure, false},
		PaceLine:       {"saw_line", 30 * s, "a line marked by hand beyond the stop", roundFigure, false},
		PaceDeburr:     {"deburr", 30 * s, "an end, in and out", roundFigure, false},
		PaceMark:       {"mark", 20 * s, "a place marked out on a piece", roundFigure, false},
		PaceCope:       {"cope", 6 * m, "an end finished to a template or with a second cut", nzRate + ": 6 min for each mitred or notched end", false},
		PaceHole:       {"hole", 5 * m, "a hole drilled", "common practice; J. S. Page, Estimator's Piping Man-Hour Manual, p. 50, has 12 min for plate up to 1/2 in", false},
		PacePlate:      {"plate", 270 * s, "a plate cut and drilled, or deburred as bought", nzRate + ": 4.5 min for a sheared and punched plate (3 to 6)", false},
		PacePrepBright: {"prep_bright", 15 * s, "a joint of bright steel wiped", roundFigure, false},
		PacePrepScale:  {"prep_scale", 45 * s, "a joint ground free of mill scale", roundFigure, false},
		PacePrepOiled:  {"prep_oiled", 30 * s, "a joint of oiled steel wiped", roundFigure, false},
		PacePrepPrimed: {"prep_primed", 75 * s, "a joint ground free of primer", roundFigure, false},
		PacePrepZinc:   {"prep_galvanised", 2 * m, "a joint ground free of zinc", roundFigure, false},
		PaceFit:        {"fit", 60 * s, "a joint set and clamped", roundFigure, false},
		PaceFitMember:  {"fit_member", 20 * s, "each member of it beyond the second", roundFigure, false},
		PaceSquare:     {"square", 2 * m, "diagonals of a tacked frame measured and pulled", roundFigure, false},
		PaceTurn:       {"turn", 3 * m, "the frame turned over", roundFigure, false},
		PacePass:       {"pass", 8 * s, "a pass that leaves slag: hood up, chip", roundFigure, false},
		PacePassLength: {"pass_length", 120 * time.Second, "a metre of such a pass chipped and brushed", roundFigure, false},
		PaceBrush:      {"brush", 5 * s, "a seam without slag brushed", roundFigure, false},
		PaceDress:      {"dress", 10 * m, "a metre of seam ground flush", roundFigure, false},
		PaceSurface:    {"surface", 0, "a square metre prepared for paint; by the grade where left out", roundFigure, false},
		PacePaintSetup: {"paint_setup", 15 * m, "a coat: stirred, masked, tools cleaned", roundFigure, true},
		PacePaint:      {"paint", 0, "a square metre of one coat; by the method where left out", roundFigure, false},
		PaceCap:        {"cap", 45 * s, "a tube end plugged or capped", roundFigure, false},
		PaceBolt:       {"bolt", 3 * m, "a bolt put in and tightened", roundFigure, false},
		PaceOut:        {"load_out", 30 * m, "the job: carried out, loaded, tied down", roundFigure, true},
	}
}

// Labour is the [labour]: what an hour costs and how long things take.
type Labour struct {
	Where
	Given      bool
	Rate       measure.Money // for an hour; 0: hours are counted, not charged
	RestUnpaid bool          // rest = "unpaid": waiting for the machine is not charged
	FeedMM2    float64       // metal sawn in a minute, mm2
	FeedOwn    bool
	Allow      float64 // share added to every time: interruptions
	Learn      bool    // reckon with what the last jobs really took
	Day        time.Duration
	times      [PaceCount]time.Duration
	own        [PaceCount]bool
}

// Time gives a pace: the shop's own, or the stated default.
func (l *Labour) Time(p Pace) time.Duration {
	if l.own[p] {
		return l.times[p]
	}
	return p.Info().Usual
}

// Own tells whether the shop set the pace itself.
func (l *Labour) Own(p Pace) bool { return l.own[p] }

// From says where a pace comes from, for a figure's input.
func (l *Labour) From(p Pace) string {
	if l.own[p] {
		return "[labour] " + p.Info().Key
	}
	return "default of [labour] " + p.Info().Key + ", " + p.Info().Source
}
