package weld

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Part is what a task of the docket covers of all the work of its kind at its seam (or joint, for tacks): from one share of
// it to another. A seam that is laid in one run is one part, from 0 to 1. The record names a part by the share to which it
// brings the seam, so that what was done is known again when a plan made anew, after a trip of the machine or with another
// machine, splits the seam otherwise.
type Part struct {
	From, To float64
}

// Parts gives the part of each task of the docket. Runs of a seam (over all its passes), tacks of a joint and the cleaning
// after each run are parted by arc; every other task is whole.
func (p *Plan) Parts() []Part {
	t := p.Docket.Tasks
	parts := make([]Part, len(t))
	runs := map[string][]int{}
	for i := range t {
		parts[i] = Part{0, 1}
		if t[i].Kind.Burns() {
			runs[t[i].ID] = append(runs[t[i].ID], i)
		}
	}
	for i := range t {
		if !t[i].Kind.Burns() || runs[t[i].ID][0] != i {
			continue
		}
		group := runs[t[i].ID]
		whole, sum := 0.0, 0.0
		for _, k := range group {
			whole += float64(t[k].Take)
		}
		for n, k := range group {
			from := sum / whole
			if sum += float64(t[k].Take); whole > 0 && n < len(group)-1 {
				parts[k] = Part{from, sum / whole}
			} else if whole > 0 {
				parts[k] = Part{from, 1}
			}
		}
	}
	for i := range t { // cleaning belongs to the run before it
		if t[i].Kind != Clean || t[i].Seam == "" || len(t[i].After) != 1 {
			continue
		}
		if run := t[i].After[0]; t[run].Kind == Arc && t[run].Seam == t[i].Seam {
			parts[i] = parts[run]
		}
	}
	return parts
}

// Key names a joint so that it is known again after an edit that numbers the joints anew: by its members.
func (p *Plan) Key(joint int) string {
	j := &p.Layout.Joints[joint]
	key := strings.Join(j.Members, "+")
	if key == "" || len(key) > 160 {
		return j.ID
	}
	return key
}

// Names gives the name of each task in the record, and that of the whole seam, or of all the tacks of a joint, that it is a
// part of; both are empty for a gate, which nobody ticks off.
func (p *Plan) Names() (keys, wholes []string) {
	joints := map[string]string{}
	for i := range p.Layout.Joints {
		joints[p.Layout.Joints[i].ID] = p.Key(i)
	}
	parts, seen := p.Parts(), map[string]int{}
	for i, t := range p.Docket.Tasks {
		if t.Kind == Gate {
			keys, wholes = append(keys, ""), append(wholes, "")
			continue
		}
		whole := t.ID
		if t.Joint != "" && joints[t.Joint] != "" {
			whole = joints[t.Joint] + strings.TrimPrefix(t.ID, t.Joint)
		}
		name, word := whole, ""
		for _, end := range []string{" tack", " clean"} {
			if s, ok := strings.CutSuffix(whole, end); ok {
				name, word = s, end
			}
		}
		key := parts[i].In(name, word)
		if seen[key]++; seen[key] > 1 {
			key += " #" + strconv.Itoa(seen[key])
		}
		keys, wholes = append(keys, key), append(wholes, whole)
	}
	return keys, wholes
}

// Names of parts in the record: "J1.2" is all of the seam, or its last run, "J1.2 to 37.5%" the run that brings it there.
const (
	partSign = " to "
	partUnit = "%"
	// partDigits is how finely a share is written; two shares that differ by less are one.
	partDigits = 2
	partSlack  = 1e-4
)

// In names the part: name is the seam's or joint's name in the record, word what follows it (" clean"; "" for a run).
func (x Part) In(name, word string) string {
	if x.To > 1-partSlack {
		return name + word
	}
	share := strconv.FormatFloat(100*x.To, 'f', partDigits, 64)
	return name + partSign + strings.TrimRight(strings.TrimRight(share, "0"), ".") + partUnit + word
}

// ReadPart takes a name of the record apart: the name of the whole, and the share to which it was brought.
func ReadPart(name string) (whole string, share float64) {
	at := strings.LastIndex(name, partSign)
	if at < 0 {
		return name, 1
	}
	number, word, ok := strings.Cut(name[at+len(partSign):], partUnit)
	x, err := strconv.ParseFloat(number, 64)
	if !ok || err != nil || !(x > 0 && x < 100) || strings.ContainsAny(number, "eExX_+-") {
		return name, 1
	}
	return name[:at] + word, x / 100
}

// Shares are the shares to which one seam was brought, by the record, in rising order.
type Shares []float64

// Add notes one more.
func (s *Shares) Add(share float64) {
	at, there := slices.BinarySearch(*s, share)
	if !there {
		*s = slices.Insert(*s, at, share)
	}
}

// Done tells whether the part is done, and else how much of it (0 to 1).
func (s Shares) Done(x Part) (done bool, share float64) {
	if len(s) == 0 {
		return false, 0
	}
	to := s[len(s)-1]
	if to > x.To-partSlack {
		return true, 1
	}
	return false, math.Max(0, to-x.From) / (x.To - x.From)
}

// Own tells whether the part was done as it stands: by a run that began and ended where it does, so that the run's time may
// be held against the plan's.
func (s Shares) Own(x Part) bool {
	for k, to := range s {
		if math.Abs(to-x.To) < partSlack {
			from := 0.0
			if k > 0 {
				from = s[k-1]
			}
			return math.Abs(from-x.From) < partSlack
		}
	}
	return false
}
