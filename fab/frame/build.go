package frame

import (
	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
)

// Build places every member of the job in space, cuts their ends and finds their joints. sections holds the steel of each
// section of the job by name. Problems of severity error mean that the frame cannot be built as written; the frame then
// holds what could be placed.
func Build(j *job.Job, sections map[string]steel.Section) (*Frame, []text.Problem) {
	return &Frame{}, nil
}

// Tips gives where the piece begins and ends along its axis, measured from A: its tips (long points) in mm.
func (m *Member) Tips() (from, to float64) { return 0, m.A.Dist(m.B) }
