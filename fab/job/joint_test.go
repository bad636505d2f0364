package job_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
)

func TestSidesOfJoint(t *testing.T) {
	const head = "[[joint]]\nbetween = [\"A\", \"B\"]\n"
	for _, c := range []struct {
		sides  string
		number int
		words  string
		want   string // of the error; "" none
	}{
		{`3`, 3, "", ""},
		{`"3"`, 3, "", ""},
		{`["top", "left"]`, 0, "top left", ""},
		{`"outside"`, 0, "outside", ""},
		{`["top", "top"]`, 0, "top", "top stands twice"},
		{`["topp"]`, 0, "", `"topp" is not among top, bottom, left, right, front, back, inside or outside`},
		{`[]`, 0, "", "the list is empty"},
		{`[1, "top"]`, 0, "top", ""}, // an error whose wording is the reader's own
		{`5`, 0, "", "write a whole number from 1 to 4"},
		{`true`, 0, "", "write how many are welded, 1 to 4, or which"},
		{`2.5`, 0, "", "write how many are welded, 1 to 4, or which"},
	} {
		j, problems := job.Read("job.toml", []byte(head+"sides = "+c.sides+"\n"))
		var faults []text.Problem
		for _, p := range problems {
			if strings.HasSuffix(p.Key, ".sides") {
				faults = append(faults, p)
			}
		}
		if len(j.Joints) != 1 {
			t.Fatalf("%s: %v", c.sides, problems)
		}
		var words []string
		for _, n := range j.Joints[0].Facing {
			words = append(words, n.Text)
			if n.Line != 3 || n.File != "job.toml" || n.Key != "joint.sides" {
				t.Errorf("%s: %+v", c.sides, n)
			}
		}
		if j.Joints[0].Sides != c.number || strings.Join(words, " ") != c.words {
			t.Errorf("%s: %d, %v", c.sides, j.Joints[0].Sides, words)
		}
		wrong := c.want != "" || strings.HasPrefix(c.sides, "[1")
		if wrong != (len(faults) == 1) || len(faults) > 1 || wrong && (faults[0].Line != 3 || faults[0].Severity != text.Error || !strings.Contains(faults[0].Message, c.want)) {
			t.Errorf("%s: %v", c.sides, faults)
		}
	}
}
