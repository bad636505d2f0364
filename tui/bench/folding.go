package bench

import "bench.example/soapstone/fab/work"

// jobSetting is the setting under which the record keeps which text of the job was worked from.
const jobSetting = work.JobSetting

// folding is the progress of the work, and what it calls for.
type folding struct {
	*work.Progress
	state *work.State
	stale bool     // the base moved since the last plan
	moved []reason // what moved the base since the last plan
}

// reason is an event that calls for a new plan.
type reason struct {
	what   work.What
	undone bool // it was taken back
}

func newFolding(past *work.Progress) folding {
	if past == nil {
		past = work.NewProgress()
	}
	return folding{Progress: past, state: past.State(), stale: true}
}

// apply folds one event in.
func (f *folding) apply(id work.ID, at int64, payload []byte) {
	if _, replan := f.Apply(id, at, payload); !replan {
		return
	}
	f.stale = true
	what, err := work.Decode(payload)
	if err != nil {
		return
	}
	r := reason{what: what}
	if u, ok := what.(work.Undone); ok {
		r.undone = true
		for _, d := range f.state.Recent(256) {
			if d.ID == u.Of {
				r.what = d.What
			}
		}
	}
	f.moved = append(f.moved, r)
}
