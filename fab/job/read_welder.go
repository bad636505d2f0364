package job

import (
	"sort"
	"strings"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

const likeDuty = `"30% at 130A", or a list of such where the plate gives several`

// welder reads [welder], the shop's under the job's, and the shop's further machines [welder.NAME].
func (rd *reader) welder() {
	rd.top.Skip("welder")
	f, given := rd.shared.Table("welder")
	if !given {
		return
	}
	keys := f.Keys()
	w, machines := rd.machine(f, ""), []Welder(nil)
	for _, name := range keys {
		if welderKeys[name] {
			continue
		}
		if v := f.Find(name); v.Kind == text.TableKind {
			g, _ := f.Table(name)
			machines = append(machines, *rd.machine(g, name))
			g.Done()
		}
	}
	f.Done()
	rd.job.Welder, rd.job.Welders = w, machines
	if len(machines) > 0 && len(machines) == len(keys) {
		rd.job.Welder = nil // the shop only lists machines
	}
}

var welderKeys = map[string]bool{"process": true, "amps": true, "volts": true, "duty": true, "window": true, "wire": true,
	"travel": true, "deposit": true, "fillet": true, "derate": true, "wfs": true, "price": true, "tack": true, "hours_per_day": true}

// shopWords are the everyday names of the processes and their letters (AWS A3.0).
var shopWords = map[string]string{"stick": `"SMAW"`, "mma": `"SMAW"`, "mig": `"GMAW"`, "mag": `"GMAW"`, "tig": `"GTAW"`,
	"flux core": `"FCAW-S" without gas, "FCAW-G" with gas`, "flux-core": `"FCAW-S" without gas, "FCAW-G" with gas`,
	"fcaw": `"FCAW-S" without gas, "FCAW-G" with gas`}

// machine reads one welder's keys. A group of machines with nothing of its own is left as it is.
func (rd *reader) machine(f *text.Fields, name string) *Welder {
	w := &Welder{Where: where(f), Name: name, Window: 10 * time.Minute, Derate: 1, Fillet: measure.Inch / 8}
	own := false
	for _, k := range f.Keys() {
		own = own || welderKeys[k]
	}
	if !own && name == "" && len(f.Keys()) > 0 {
		return w
	}
	if v := f.Find("process"); v != nil && v.Kind == text.String && shopWords[strings.ToLower(v.Text)] != "" {
		f.Take("process")
		f.Fault(text.CodeValue, "process", "%s goes by its letters here: %s", text.Short(v.Raw(), 40), shopWords[strings.ToLower(v.Text)])
	} else {
		f.Choice("process", &w.Process, text.Need, "SMAW", "GMAW", "FCAW-S", "FCAW-G", "GTAW")
	}
	text.Quantity(f, "amps", &w.Amps, text.Need|text.Positive, measure.ParseCurrent)
	text.Quantity(f, "volts", &w.Volts, text.Need|text.Positive, measure.ParseVoltage)
	if w.Amps > 2000 {
		f.Fault(text.CodeValue, "amps", "more than 2000 A; no shop's machine gives that")
	}
	if w.Volts > 200 {
		f.Fault(text.CodeValue, "volts", "more than 200 V; arc volts lie between 10 and 45")
	}
	rd.duty(f, w)
	if n := len(w.Duty); n > 0 && w.Amps > w.Duty[n-1].Amps && w.Amps <= 2000 {
		f.Fault(text.CodeValue, "amps", "%g A is more than the plate's highest current of %g A: no duty is given there, and none may be reckoned; set the machine to %g A or less", w.Amps, w.Duty[n-1].Amps, w.Duty[n-1].Amps)
	}
	if text.Quantity(f, "window", &w.Window, text.Positive, measure.ParseTime) && w.Window > time.Hour {
		f.Fault(text.CodeValue, "window", "longer than an hour; a rating plate's period is 10m, or 5m")
	}
	f.Length("wire", &w.Wire, text.Positive)
	switch only(f, true, "travel", "deposit") {
	case "travel":
		text.Quantity(f, "travel", &w.TravelMMs, text.Positive, measure.ParseSpeed)
	case "deposit":
		text.Quantity(f, "deposit", &w.DepositKGs, text.Positive, measure.ParseRate)
	}
	if f.Take("fillet"); f.Has("fillet") {
		f.Length("fillet", &w.Fillet, text.Positive)
	} else {
		f.Warn(text.CodeMissing, "fillet", `fillet is left out; joints that say nothing are planned with 1/8" legs`)
	}
	if f.Share("derate", &w.Derate, text.Positive) && w.Derate == 0 {
		f.Fault(text.CodeValue, "derate", "0 leaves nothing to weld with; write a share such as 80%%")
	}
	text.Quantity(f, "wfs", &w.WFS, text.Positive, measure.ParseSpeed)
	f.Money("price", &w.Price, 0)
	f.Length("tack", &w.Tack, text.Positive)
	if text.Quantity(f, "hours_per_day", &w.HoursPerDay, text.Positive, measure.ParseTime) && w.HoursPerDay > 24*time.Hour {
		f.Fault(text.CodeValue, "hours_per_day", "a day has 24h")
	}
	return w
}

// duty reads the points of the rating plate, sorted by current.
func (rd *reader) duty(f *text.Fields, w *Welder) {
	if !f.Has("duty") {
		f.Take("duty")
		f.Fault(text.CodeMissing, "duty", "duty is missing: what the rating plate says: %s", likeDuty)
		return
	}
	for _, v := range words(f, "duty", likeDuty) {
		share, amps, found := strings.Cut(v.Text, "at")
		if !found {
			f.FaultAt(v, text.CodeValue, "duty", `%s is no point of a rating plate; write %s`, text.Short(v.Raw(), 40), likeDuty)
			continue
		}
		d, err := measure.ParseShare(trimmed(share))
		if err == nil && (d <= 0 || d > 1) {
			f.FaultAt(v, text.CodeValue, "duty", "%s: a duty cycle lies above 0 and goes up to 100%%", text.Short(v.Raw(), 40))
			continue
		}
		a := 0.0
		if err == nil {
			a, err = measure.ParseCurrent(trimmed(amps))
		}
		switch {
		case err != nil:
			f.FaultAt(v, text.CodeValue, "duty", "%s", err)
		case a <= 0:
			f.FaultAt(v, text.CodeValue, "duty", "%s: the current must be more than zero", text.Short(v.Raw(), 40))
		default:
			w.Duty = append(w.Duty, PlatePoint{Duty: d, Amps: a})
		}
	}
	if f.Has("duty") && f.Take("duty").Kind == text.Array && len(f.Take("duty").Items) == 0 {
		f.Fault(text.CodeValue, "duty", "the list is empty; write %s", likeDuty)
	}
	sort.SliceStable(w.Duty, func(i, j int) bool { return w.Duty[i].Amps < w.Duty[j].Amps })
	for i := 1; i < len(w.Duty); i++ {
		switch a, b := w.Duty[i-1], w.Duty[i]; {
		case a.Amps == b.Amps:
			f.Fault(text.CodeDuplicate, "duty", "%g A stands twice on this plate", a.Amps)
		case a.Duty < b.Duty:
			f.Fault(text.CodeValue, "duty", "the duty at %g A cannot be less than that at %g A", a.Amps, b.Amps)
		}
	}
}
