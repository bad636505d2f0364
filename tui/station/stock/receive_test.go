package stock_test

import (
	"strings"
	"testing"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/table"
	"bench.example/soapstone/tui/look"
	"bench.example/soapstone/tui/station"
	"bench.example/soapstone/tui/station/stock"
)

func deskOf(t *testing.T, w *work.State) *station.Desk {
	t.Helper()
	cat := table.Steel()
	j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: "kayak-rack.toml", Data: example.Job})
	if text.HasErrors(problems) {
		t.Fatal(problems)
	}
	p := plan.Build(t.Context(), plan.Input{Job: &j, Steel: cat, Work: w, Effort: -1})
	return &station.Desk{Look: look.New(termenv.Ascii, look.Dark, true), Plan: p, Work: w, Keeps: true}
}

// TestReceiveByKey fills the form as at the yard's counter, and the plan follows.
func TestReceiveByKey(t *testing.T) {
	w := work.New()
	d := deskOf(t, w)
	s := stock.New()
	out := s.Press(d, "r")
	f, ok := out[0].(station.Form)
	if !ok {
		t.Fatalf("r gives %v", out)
	}
	v := make([]string, len(f.Fields))
	for i, x := range f.Fields {
		v[i] = x.Value
	}
	if v[1] != "4" || v[2] != "27.80" {
		t.Errorf("the form begins with %q; the plan buys 4 rails at 27.80", v)
	}
	for _, c := range []struct {
		field int
		word  string
	}{{0, "gold 20'"}, {1, "some"}, {1, "0"}, {1, "-1"}, {2, "much"}, {4, "thin"}, {5, "30ft"}} {
		bad := append([]string{}, v...)
		bad[c.field] = c.word
		if _, err := f.Done(d, bad); err == nil {
			t.Errorf("%q is taken in field %d", c.word, c.field)
		}
	}
	v[1], v[2], v[4], v[7] = "3", "29.10", ".079", "Harbour Steel"
	out, err := f.Done(d, v)
	if err != nil {
		t.Fatal(err)
	}
	e := out[0].(station.Write).Events[0].(work.Received)
	if e.Section != "rail" || e.Nominal != 20*measure.Foot || e.Qty != 3 || e.Price != 2910*measure.Cent || e.Wall != 79*measure.Mil || e.Supplier != "Harbour Steel" || e.NoMore {
		t.Errorf("%+v", e)
	}
	payload, err := work.Encode(e)
	if err != nil {
		t.Fatal(err)
	}
	w.Apply(work.ID{Writer: 1, Number: 1}, 1, payload)
	d = deskOf(t, w)
	view := strings.Join(s.View(d, 120, 40), "\n")
	for _, want := range []string{"1 x rail", "29.10", "came: 3 x rail"} {
		if !strings.Contains(view, want) {
			t.Errorf("no %q in\n%s", want, view)
		}
	}
}
