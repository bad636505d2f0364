package weld

import (
	"math"
	"time"
)

// Thermal is a first-order model of the machine, a second view beside the window rule: its one temperature rises towards
// I^2 while the arc burns and falls towards the air's while it does not, both with the time constant Tau. Temperatures are
// counted as a share of the limit that the plate's own points reach. A real machine has fast parts (rectifier, minutes)
// and slow ones (winding, half an hour), and a fan: no plan promises that the cut-out stays quiet.
type Thermal struct {
	Tau   time.Duration // time constant; 0: very long, which is the pure square law
	Limit float64       // I^2 (A^2) that would just reach the limit if the arc never stopped
	Worst float64       // largest relative difference between the plate's points and the model, in I^2
}

// onLoad gives the peak of a steady cycle with duty d (burning d of the period, then resting) as a share of the steady heat:
// f(d) = (1 - exp(-d T/tau)) / (1 - exp(-T/tau)); d itself where tau is very long.
func onLoad(d float64, period, tau time.Duration) float64 {
	if tau <= 0 {
		return d
	}
	x := period.Seconds() / tau.Seconds()
	return math.Expm1(-d*x) / math.Expm1(-x)
}

// slowest is the longest time constant that a fit gives. Beyond it the plate follows the square law within its rounding and
// says nothing about the time constant; a model that takes hours to warm would promise too much to a cold machine.
const slowest = 80 * time.Minute

// FitThermal fits the model to a plate: the time constant under which the plate's points reach most nearly the same peak.
// A plate with one point says nothing about it and gives the square law.
func FitThermal(p Plate) (Thermal, error) {
	if err := p.Check(); err != nil {
		return Thermal{}, err
	}
	s := p.sorted()
	spread := func(tau time.Duration) (mean, worst float64) {
		lo, hi := math.Inf(1), 0.0
		for _, x := range s {
			v := x.Amps * x.Amps * onLoad(x.Duty, p.Window, tau)
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
		return math.Sqrt(lo * hi), hi/lo - 1
	}
	var best Thermal
	best.Limit, best.Worst = spread(0)
	if len(s) == 1 {
		return best, nil
	}
	// the spread over log tau has one valley: scan it finely (2 % steps), so that no start value matters
	square := best
	for tau := 30 * time.Second; tau < slowest; tau += tau / 50 {
		if mean, worst := spread(tau); worst < best.Worst-1e-12 {
			best = Thermal{tau, mean, worst}
		}
	}
	if best.Tau > slowest*9/10 {
		return square, nil
	}
	return best, nil
}

// Peak gives the highest temperature (share of the limit) that arcs at a current reach, and when. The machine is cold at
// the first arc.
func (m Thermal) Peak(arcs []Span, amps float64, period time.Duration) (peak float64, when time.Duration) {
	for _, p := range m.Trace(arcs, amps, period) {
		if p.Share > peak {
			peak, when = p.Share, p.At
		}
	}
	return peak, when
}

// Warm is the temperature at a moment, as a share of the limit.
type Warm struct {
	At    time.Duration
	Share float64
}

// Trace gives the temperature at the start and end of each arc. Without a time constant (the pure square law) the share is
// the arc in the window that ends there over what the square law allows.
func (m Thermal) Trace(arcs []Span, amps float64, period time.Duration) []Warm {
	var out []Warm
	if m.Limit <= 0 {
		return nil
	}
	full := amps * amps / m.Limit
	if m.Tau <= 0 {
		var b burnt
		for _, a := range arcs {
			out = append(out, Warm{a.Start, full * (b.sum() - b.at(a.Start-period)).Seconds() / period.Seconds()})
			b.add(a)
			out = append(out, Warm{a.End, full * (b.sum() - b.at(a.End-period)).Seconds() / period.Seconds()})
		}
		return out
	}
	now, t := time.Duration(0), 0.0
	for k, a := range arcs {
		if k == 0 {
			now = a.Start
		}
		t *= math.Exp(-(a.Start - now).Seconds() / m.Tau.Seconds())
		out = append(out, Warm{a.Start, t})
		t = full + (t-full)*math.Exp(-a.Length().Seconds()/m.Tau.Seconds())
		now = a.End
		out = append(out, Warm{now, t})
	}
	return out
}
