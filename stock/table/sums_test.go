package table_test

import (
	"encoding/json"
	"math"
	"testing"

	"bench.example/soapstone/fab/sum"
	"bench.example/soapstone/stock/table"
)

// Every sum answers the examples that its usage shows (what must be given, and one more where it wants one of several),
// with figures that recompute from what they show and values that JSON can hold.
func TestSumsAnswerTheirExamples(t *testing.T) {
	for _, s := range sum.List() {
		if s.File {
			continue
		}
		var needed []string
		tries := [][]string{nil}
		for _, a := range s.Takes {
			if word := a.Name + "=" + a.Example; a.Optional {
				tries = append(tries, []string{word})
			} else {
				needed = append(needed, word)
			}
		}
		answered, last := 0, error(nil)
		for _, more := range tries {
			r, err := s.Call(append(append([]string{}, needed...), more...), table.Sums(), "", nil)
			if err != nil {
				last = err
				continue
			}
			answered++
			if len(r.Figures) == 0 {
				t.Errorf("%s shows no working", s.Name)
			}
			for _, f := range r.Figures {
				if err := f.Check(); err != nil {
					t.Errorf("%s: %v", s.Name, err)
				}
			}
			for _, v := range r.Values {
				if x, ok := v.Value.(float64); ok && (math.IsNaN(x) || math.IsInf(x, 0)) {
					t.Errorf("%s: %s = %g", s.Name, v.Key, x)
				}
				if _, err := json.Marshal(v.Value); err != nil {
					t.Errorf("%s: %s: %v", s.Name, v.Key, err)
				}
			}
		}
		if answered == 0 {
			t.Errorf("%s does not answer its own examples: %v", s.Name, last)
		}
	}
}
