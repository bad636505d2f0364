package list

import (
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

// Answer is the JSON of `nest --json`.
type Answer struct {
	Cost       float64   `json:"cost"`
	BoundCost  float64   `json:"bound_cost"`
	Bars       int       `json:"bars"`
	BoundBars  int       `json:"bound_bars"`
	Proven     bool      `json:"proven"`
	Seconds    float64   `json:"seconds"`
	UsedMM     float64   `json:"used_mm"`
	WasteMM    float64   `json:"waste_mm"`
	DropsMM    []float64 `json:"drops_mm"`
	MaterialMM Goal      `json:"material_mm"`
	LongestMM  Goal      `json:"longest_drop_mm"`
	Sticks     []Stick   `json:"sticks"`
}

// Goal is a further aim of the objective with its bound.
type Goal struct {
	Value  float64 `json:"value"`
	Bound  float64 `json:"bound"`
	Proven bool    `json:"proven"`
}

// Stick is one stick of an answer; plan --json uses it too.
type Stick struct {
	Source  string    `json:"source"` // buy | shelf
	StickMM float64   `json:"stick_mm"`
	DropMM  float64   `json:"drop_mm"`
	SlackMM float64   `json:"slack_mm"`
	PartsMM []float64 `json:"parts_mm"`
	Cuts    []Cut     `json:"cuts"`
}

// Cut is one piece on a stick.
type Cut struct {
	Piece   any        `json:"piece"` // the list line's number, or a mark
	Unit    int        `json:"unit"`
	FromMM  float64    `json:"from_mm"`
	ToMM    float64    `json:"to_mm"`
	Ends    [2]float64 `json:"ends"` // the numbers as it lies
	RollDeg int        `json:"roll_deg"`
	Turned  bool       `json:"turned"`
}

// JSON turns a nest into its JSON. name gives what a kind is called, numbers its two end numbers. An answer without
// prices costs 0.
func JSON(p nest.Problem, n nest.Nest, name func(kind int) any, numbers func(kind int) (left, right float64)) Answer {
	a := Answer{Bars: n.Bars, BoundBars: n.BoundBars, Proven: n.Proven, UsedMM: n.UsedLength.MM(), WasteMM: n.Waste.MM(),
		DropsMM: mm(n.Drops), Sticks: Sticks(p, n, name, numbers),
		MaterialMM: goal(n.Material), LongestMM: goal(n.Longest)}
	if n.Priced {
		a.Cost, a.BoundCost = n.Cost.Float(), n.BoundCost.Float()
	}
	return a
}

func goal(g nest.Goal) Goal {
	return Goal{measure.Length(g.Value).MM(), measure.Length(g.Bound).MM(), g.Proven}
}

// Sticks turns the sticks of a nest into their JSON.
func Sticks(p nest.Problem, n nest.Nest, name func(kind int) any, numbers func(kind int) (left, right float64)) []Stick {
	sticks := make([]Stick, 0, len(n.Used))
	for _, u := range n.Used {
		s := Stick{Source: "buy", StickMM: p.Sticks[u.Stick].Length.MM(), DropMM: u.Drop.MM(), SlackMM: u.Slack.MM(),
			PartsMM: mm(u.Partings()), Cuts: make([]Cut, 0, len(u.Cuts))}
		if p.Sticks[u.Stick].OnHand {
			s.Source = "shelf"
		}
		for _, c := range u.Cuts {
			l, r := c.Lay.Numbers(numbers(c.Kind))
			s.Cuts = append(s.Cuts, Cut{name(c.Kind), c.Unit, c.From.MM(), c.To.MM(), [2]float64{l, r}, c.Lay.Roll, c.Lay.Turned})
		}
		sticks = append(sticks, s)
	}
	return sticks
}

func mm(ls []measure.Length) []float64 {
	out := make([]float64, 0, len(ls))
	for _, l := range ls {
		out = append(out, l.MM())
	}
	return out
}
