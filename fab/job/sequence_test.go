package job_test

import (
	"strings"
	"testing"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/text"
)

func TestSequence(t *testing.T) {
	for _, c := range []struct{ toml, key, want string }{
		{`stages = ["upper", "lower"]` + "\n" + `joints = ["lower.x1 + lower.bar3", "J7", "J9.2"]`, "", ""},
		{`stages = "upper"`, "", ""},
		{`stages = ["upper", "upper"]`, "sequence.stages", "stands twice"},
		{`joints = ["J7", "J9", " J7 "]`, "sequence.joints", "stands twice"},
		{`joints = [7]`, "sequence.joints", ""},
		{`joints = [""]`, "sequence.joints", "a name belongs here"},
		{`order = ["J7"]`, "sequence.order", ""},
	} {
		j, problems := job.Read("job.toml", []byte("[sequence]\n"+c.toml+"\n"))
		var faults []text.Problem
		for _, p := range problems {
			if strings.HasPrefix(p.Key, "sequence") {
				faults = append(faults, p)
			}
		}
		switch {
		case c.key == "" && len(faults) > 0:
			t.Errorf("%s: %v", c.toml, faults)
		case c.key == "" && len(j.Sequence.Stages) == 0:
			t.Errorf("%s: nothing read", c.toml)
		case c.key != "" && (len(faults) != 1 || faults[0].Severity != text.Error || faults[0].Line < 2 || !strings.Contains(faults[0].Message, c.want)):
			t.Errorf("%s: %v", c.toml, faults)
		}
	}
	j, _ := job.Read("job.toml", []byte("[sequence]\njoints = [\"J1\", \"a + b\"]\n"))
	if len(j.Sequence.Joints) != 2 || j.Sequence.Joints[1].Text != "a + b" || j.Sequence.Joints[1].Line != 2 || !j.Sequence.Given {
		t.Errorf("%+v", j.Sequence)
	}
}
