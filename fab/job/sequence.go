package job

import (
	"strings"

	"bench.example/soapstone/fab/text"
)

// Sequence is the [sequence]: the worker's own order at the booth, where the planned one is to be overruled.
//
//	[sequence]
//	stages = ["upper", "lower"]               sub-frames first in this order; the others keep their place
//	joints = ["lower.x1 + lower.bar3", "J7"]  joints, seams (J7.2), members or marks, one after the other
//
// What a name stands for, and whether the order can be, only the weld plan knows: seam.Reorder and weld.Make say.
type Sequence struct {
	Where
	Given  bool
	Stages []Name
	Joints []Name
}

// sequence reads [sequence].
func (rd *reader) sequence() {
	f, given := rd.top.Table("sequence")
	s := Sequence{Where: where(f), Given: given}
	s.Stages = rd.once(f, "stages", `["upper", "lower"]`)
	s.Joints = rd.once(f, "joints", `["lower.x1 + lower.bar3", "J7"]`)
	f.Done()
	rd.job.Sequence = s
}

// once reads a list of names of which none may stand twice.
func (rd *reader) once(f *text.Fields, key, like string) []Name {
	names := namesOf(f, key, like)
	seen := map[string]bool{}
	for _, n := range names {
		if id := strings.Join(strings.Fields(n.Text), " "); seen[id] {
			f.Fault(text.CodeDuplicate, key, "%s stands twice in this order; each comes once", text.Short(text.Quote(n.Text), 60))
		} else {
			seen[id] = true
		}
	}
	return names
}
