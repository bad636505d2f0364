package outside_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/figure/outside"
)

// spy stands for a test and keeps what Check says of it.
type spy struct {
	testing.TB
	errors []string
	attrs  []string
}

func (s *spy) Helper()                   {}
func (s *spy) Name() string              { return "TestOfOthers" }
func (s *spy) Errorf(f string, a ...any) { s.errors = append(s.errors, fmt.Sprintf(f, a...)) }
func (s *spy) Attr(key, value string)    { s.attrs = append(s.attrs, key+"="+value) }

func TestCheck(t *testing.T) {
	good := outside.Case{Field: "nest", Source: "a paper, table 1", What: "bins", Got: 10, Want: 10}
	for what, c := range map[string]struct {
		change func(*outside.Case)
		held   bool
		says   string
	}{
		"equal":                 {func(*outside.Case) {}, true, ""},
		"off without tolerance": {func(c *outside.Case) { c.Got = 10.001 }, false, "published 10"},
		"within abs":            {func(c *outside.Case) { c.Got, c.Abs, c.Why = 10.4, 0.5, "print" }, true, ""},
		"beyond abs":            {func(c *outside.Case) { c.Got, c.Abs, c.Why = 10.6, 0.5, "print" }, false, "published 10"},
		"within rel":            {func(c *outside.Case) { c.Got, c.Rel, c.Why = 9.95, 0.01, "print" }, true, ""},
		"no field":              {func(c *outside.Case) { c.Field = "" }, false, "needs a field"},
		"no source":             {func(c *outside.Case) { c.Source = "" }, false, "needs a field"},
		"nothing compared":      {func(c *outside.Case) { c.What = "" }, false, "needs a field"},
		"tolerance without why": {func(c *outside.Case) { c.Rel = 0.01 }, true, "needs a reason"},
		"not a number":          {func(c *outside.Case) { c.Got, c.Want = nan(), 10 }, false, "published 10"},
	} {
		t.Run(what, func(t *testing.T) {
			s, c2 := &spy{TB: t}, good
			c.change(&c2)
			held := outside.Check(s, c2)
			if held != c.held || (c.says == "") != (len(s.errors) == 0) || c.says != "" && !strings.Contains(strings.Join(s.errors, "; "), c.says) {
				t.Errorf("held %v, said %q; want %v, %q", held, s.errors, c.held, c.says)
			}
		})
	}
}

func nan() float64 { var z float64; return z / z }

// Every check that ran is registered, the failed ones too.
func TestRegister(t *testing.T) {
	s := &spy{TB: t}
	outside.Check(s, outside.Case{Field: "nest", Source: "paper", What: "bins", Got: 11, Want: 10})
	if len(s.attrs) != 1 || !strings.HasPrefix(s.attrs[0], "outside=") {
		t.Fatalf("%q", s.attrs)
	}
	var l outside.Line
	if err := json.Unmarshal([]byte(strings.TrimPrefix(s.attrs[0], "outside=")), &l); err != nil {
		t.Fatal(err)
	}
	if l.Held || l.Test != "TestOfOthers" || l.Got != 11 || l.Want != 10 || l.Source != "paper" {
		t.Errorf("%+v", l)
	}
}
