package seam

import (
	"bench.example/soapstone/fab/space"
	"bench.example/soapstone/fab/steel"
)

// Bar is a member as far as the pull of the seams asks: where it lies, how long and how stiff it is.
type Bar struct {
	Name                 string
	Centre               space.Vec // of its centroid axis
	Axis, Depth, Width   space.Vec
	LengthMM, AreaMM2    float64
	IDepthMM4, IWidthMM4 float64 // second moments of area for a bow across the depth, across the width
	Group                string  // the sub-frame that it is part of; "" none
	Stage                int     // in which it is first joined to another; len(Stages): never
	Body                 int     // connected part of the frame; -1: none
}

// In tells whether the bar is in place when a stage is over.
func (b Bar) In(l *Layout, stage int) bool {
	st := l.Stages[stage]
	return b.Body == st.Body && b.Stage <= stage && (st.Kind != Bench || b.Group == st.Group)
}

// bars fills in the layout's bars.
func (s *finder) bars() {
	p := s.presence()
	for m := range s.f.Members {
		x := &s.f.Members[m]
		sec := x.Section.Properties(steel.Nominal)
		s.out.Bars = append(s.out.Bars, Bar{Name: x.Name, Centre: x.Centre(), Axis: x.Axis, Depth: x.Depth, Width: x.Width, LengthMM: s.f.LengthMM(m),
			AreaMM2: sec.AreaMM2, IDepthMM4: sec.IxMM4, IWidthMM4: sec.IyMM4, Group: x.Group, Stage: p.in[m], Body: p.body[m]})
	}
}
