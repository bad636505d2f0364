package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/job"
	"bench.example/soapstone/fab/plan"
	"bench.example/soapstone/fab/sheet/packet"
	"bench.example/soapstone/fab/sheet/page"
	"bench.example/soapstone/fab/sheet/paper"
	"bench.example/soapstone/stock/example"
	"bench.example/soapstone/stock/table"
)

var updatePacket = flag.Bool("update-packet", false, "write the golden text of the packet anew")

func planned(t testing.TB, text []byte) *plan.Plan {
	t.Helper()
	cat := table.Steel()
	j, problems := job.Reader{Catalogue: &cat}.Read(job.File{Name: "test.toml", Data: text})
	if failed(problems) {
		t.Fatal(problems)
	}
	p := plan.Build(context.Background(), plan.Input{Job: &j, Steel: cat, Effort: -1})
	if p.Failed() {
		t.Fatal(p.Problems)
	}
	return p
}

// packets are the documents of the built-in example on a fixed day.
func packets(t testing.TB, p *plan.Plan, size page.Paper) map[string]*page.Document {
	t.Helper()
	o := packet.Options{Paper: size, Made: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Revision: "ABC234"}
	out := map[string]*page.Document{"packet": packet.Shop(p, o)}
	if q, err := packet.Quote(p, o); err == nil {
		out["quote"] = q
	}
	return out
}

// TestPacketOfTheExample holds every word of the example's packet and quote.
func TestPacketOfTheExample(t *testing.T) {
	for name, d := range packets(t, planned(t, example.Job), page.Letter) {
		path := filepath.Join("testdata", "example-"+name+".txt")
		got := paper.Plain(d)
		if *updatePacket {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			a, b := strings.Split(got, "\n"), strings.Split(string(want), "\n")
			for i := range a {
				if i >= len(b) || a[i] != b[i] {
					t.Errorf("%s line %d is\n%s\n(go test ./cmd/soapstone -run Packet -update-packet, and look at the difference)", path, i+1, a[i])
					break
				}
			}
			if len(a) < len(b) {
				t.Errorf("%s is shorter by %d lines", path, len(b)-len(a))
			}
		}
	}
}

// TestNothingIsCutOff: every block, stroke and label keeps to the field that Letter and A4 both hold.
func TestNothingIsCutOff(t *testing.T) {
	for _, name := range []string{"", "gate.toml", "bench-mm.toml", "big"} {
		text := example.Job
		switch name {
		case "":
		case "big":
			text = bigJob()
		default:
			var err error
			if text, err = os.ReadFile(filepath.Join("..", "..", "testdata", name)); err != nil {
				t.Fatal(err)
			}
		}
		for kind, d := range packets(t, planned(t, text), page.Either) {
			for _, p := range d.Pages {
				for _, b := range p.Blocks {
					where := fmt.Sprintf("%s %s, page %d (%s)", name, kind, p.Number, p.Part)
					if b.Y+b.H > page.Height+0.01 {
						t.Errorf("%s: a %T ends at %.1f", where, b.Block, b.Y+b.H)
					}
					switch x := b.Block.(type) {
					case *page.Drawing:
						inField(t, where, x)
					case *page.Table:
						inColumns(t, where, x)
					}
				}
			}
		}
	}
}

func inField(t *testing.T, where string, d *page.Drawing) {
	t.Helper()
	check := func(what string, x, y float64) {
		const edge = 1.2 // half of a stroke and a tick's end, well inside the margin of 12
		if x < -edge || x > page.Width+edge || y < -edge || y > d.H+edge {
			t.Errorf("%s: %s at %.1f, %.1f of %q (%.0f x %.0f)", where, what, x, y, d.Says, d.W, d.H)
		}
	}
	for _, s := range d.Shapes {
		switch x := s.(type) {
		case page.Line:
			check("a line", x.X0, x.Y0)
			check("a line", x.X1, x.Y1)
		case page.Poly:
			for _, p := range x.Points {
				check("an outline", p.X, p.Y)
			}
		case page.Disc:
			check("a disc", x.X-x.R, x.Y-x.R)
			check("a disc", x.X+x.R, x.Y+x.R)
		case page.Label:
			w := page.WidthMM(x.Text, x.Size, x.Bold)
			from := map[page.Anchor]float64{page.Start: 0, page.Middle: -w / 2, page.End: -w}[x.Anchor]
			if x.Up {
				check("label "+x.Text, x.X-0.72*x.Size*page.PointMM, x.Y-from) // the height of capitals
				check("label "+x.Text, x.X, x.Y-from-w)
			} else {
				check("label "+x.Text, x.X+from, x.Y)
				check("label "+x.Text, x.X+from+w, x.Y)
			}
		}
	}
}

func inColumns(t *testing.T, where string, x *page.Table) {
	t.Helper()
	sum := 0.0
	for _, c := range x.Columns {
		sum += c.Width
	}
	if sum > page.Width+0.01 {
		t.Errorf("%s: columns of %.1f mm", where, sum)
	}
	for _, r := range x.Rows {
		for i, c := range r.Cells {
			for _, l := range c.Lines {
				if r.Wide {
					continue
				}
				if col := &x.Columns[i]; page.WidthMM(l, col.Size, col.Bold || c.Bold) > col.Width+0.01 && len(l) > 1 {
					t.Errorf("%s: %q is wider than its column of %.1f mm", where, l, col.Width)
				}
			}
		}
	}
}

// TestPacketHasItsPages: what the shop needs is there, and each part is on its own pages.
func TestPacketHasItsPages(t *testing.T) {
	d := packets(t, planned(t, example.Job), page.Either)["packet"]
	parts := map[string]bool{}
	for _, p := range d.Pages {
		parts[p.Part] = true
	}
	for _, want := range []string{"Cover", "Buy list", "Receipt", "Cut sheet", "Mark-out", "Labels", "Squaring", "Weld map", "Lift and bolt", "Templates"} {
		if !parts[want] {
			t.Errorf("no page of %q", want)
		}
	}
	html := string(paper.HTML(d))
	for _, bad := range []string{"http:", "https:", "url(", "<script", "<link", "<img", "@import", "src=", "href="} {
		if strings.Contains(html, bad) {
			t.Errorf("the packet holds %q", bad)
		}
	}
	// Every unit has its label, and every cut its row.
	labels := strings.Count(html, "step ")
	units := 0
	for _, x := range planned(t, example.Job).Pieces {
		units += x.Qty
	}
	if labels < units {
		t.Errorf("%d labels for %d pieces", labels, units)
	}
}

// TestQuoteKeepsTheShopsFigures: what the shop knows of its costs is on no page for the customer, and no price of the quote
// is on a page of the packet.
func TestQuoteKeepsTheShopsFigures(t *testing.T) {
	text := append([]byte(nil), example.Job...)
	if !bytes.Contains(text, []byte("\n[quote]")) {
		text = append(text, []byte("\n[labour]\nrate = 61.37\n[quote]\nmargin = \"23.7%\"\ntax = \"8.25%\"\ndeposit = \"40%\"\nvalid_days = 21\n")...)
	}
	p := planned(t, text)
	docs := packets(t, p, page.Either)
	if docs["quote"] == nil {
		t.Fatal("no quote")
	}
	q := &p.Quotes[0]
	for _, write := range []func(*page.Document) string{paper.Plain, func(d *page.Document) string { return string(paper.HTML(d)) }} {
		s := write(docs["quote"])
		for what, v := range map[string]string{"cost": q.Cost.String(), "labour": q.Labour.String(), "profit": q.Profit.String(), "margin": q.Settings.Margin.Percent(), "what an hour earns": q.EarnsHour.String(),
			"overhead": q.Overhead.String(), "steel": q.Material.String(), "rate": q.Settings.Rate.String()} {
			if v != "0" && v != "0.00" && v != "0 %" && v != q.Price.String() && v != q.Total.String() && strings.Contains(s, v) {
				t.Errorf("the quote tells the shop's %s, %s", what, v)
			}
		}
		for _, want := range []string{q.Total.String(), q.Deposit.String(), q.Balance.String()} {
			if !strings.Contains(s, want) {
				t.Errorf("the quote lacks %s", want)
			}
		}
		if strings.Contains(write(docs["packet"]), q.Total.String()) {
			t.Error("the shop's packet has the customer's price")
		}
	}
}

// bigJob is a job of more than 300 pieces.
func bigJob() []byte {
	var b strings.Builder
	b.WriteString("title = \"Racks for a sail loft\"\n[section.rail]\nshape = \"rect-tube\"\nsize = \"2 x 1 x 14ga\"\nsticks = [ {length = \"20ft\", price = 27.80} ]\n[saw]\nkerf = \"5/64\"\n")
	for i := range 12 {
		fmt.Fprintf(&b, "[[rectangle]]\nname = \"r%d\"\nsection = \"rail\"\nlength = \"%din\"\nwidth = \"44in\"\nat = [0, 0, \"%din\"]\n[[crossbars]]\non = \"r%d\"\nsection = \"rail\"\ncount = 22\n", i, 110+i%3, 10*i, i)
	}
	b.WriteString("[welder]\nprocess = \"GMAW\"\namps = 96\nvolts = 17.5\nduty = [\"20% at 148A\", \"60% at 86A\"]\ntravel = \"13ipm\"\nfillet = \"1/8\"\n")
	return []byte(b.String())
}

// BenchmarkPacket300 writes the packet of a job of 312 pieces, planned already.
func BenchmarkPacket300(b *testing.B) {
	p := planned(b, bigJob())
	units := 0
	for _, x := range p.Pieces {
		units += x.Qty
	}
	for name, write := range map[string]func(*page.Document) ([]byte, error){"HTML": func(d *page.Document) ([]byte, error) { return paper.HTML(d), nil }, "PDF": paper.PDF} {
		b.Run(name, func(b *testing.B) {
			size, pages := 0, 0
			for b.Loop() {
				d := packet.Shop(p, packet.Options{Revision: packet.Revision(p)})
				data, err := write(d)
				if err != nil {
					b.Fatal(err)
				}
				size, pages = len(data), len(d.Pages)
			}
			b.ReportMetric(float64(units), "pieces")
			b.ReportMetric(float64(pages), "pages")
			b.ReportMetric(float64(size)/1e6, "MB")
		})
	}
}

func TestSheetOptions(t *testing.T) {
	now := time.Date(2026, 11, 25, 17, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		a     sheetAsked
		paper page.Paper
		day   string
		wrong bool
	}{
		{sheetAsked{}, page.Either, "2026-11-25", false}, {sheetAsked{paper: "A4", date: "2026-01-02"}, page.A4, "2026-01-02", false}, {sheetAsked{paper: "letter", date: "none"}, page.Letter, "", false},
		{sheetAsked{paper: "a5"}, 0, "", true}, {sheetAsked{date: "tomorrow"}, 0, "", true},
	} {
		o, err := c.a.options(now)
		if (err != nil) != c.wrong {
			t.Errorf("%+v: %v", c.a, err)
		}
		day := ""
		if !o.Made.IsZero() {
			day = o.Made.Format(time.DateTime)[:10]
		}
		if !c.wrong && (o.Paper != c.paper || day != c.day) {
			t.Errorf("%+v gives %+v", c.a, o)
		}
	}
	for _, c := range []struct{ out, part, want string }{
		{"rack.csv", "", "pieces"}, {"rack-cuts.csv", "", "cuts"}, {"BUY.csv", "", "buy"}, {"rack.csv", "buy", "buy"}, {"rack.csv", "hours", ""},
	} {
		if got, _ := (sheetAsked{out: c.out, part: c.part}).csvPart(); got != c.want {
			t.Errorf("%s with %q gives %q, want %q", c.out, c.part, got, c.want)
		}
	}
}

// TestTemplatesAsOneDrawing: what no saw of the job cuts is printed at full size, loose pieces too; a job without such cuts
// says so and writes nothing.
func TestTemplatesAsOneDrawing(t *testing.T) {
	dir := t.TempDir()
	name, out := filepath.Join(dir, "job.toml"), filepath.Join(dir, "ends.svg")
	job := func(ends string) {
		t.Helper()
		text := "units = \"in\"\n[section.t]\nshape = \"square-tube\"\nsize = \"2 x 11ga\"\nsticks = [ {length = \"20ft\"} ]\n[saw]\nswing = [-45, 45]\n[[piece]]\nmark = \"T\"\nsection = \"t\"\nlength = 30\nends = " + ends + "\n"
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	job("[60, 30]")
	if status, _, errs := call(t, "sheet", name, "-o", out, "--part", "templates"); status != 0 {
		t.Fatalf("%d %s", status, errs)
	}
	data, err := os.ReadFile(out)
	if err != nil || strings.Count(string(data), `class="rim"`) != 1 || !strings.Contains(string(data), "T, first end") {
		t.Errorf("%v\n%s", err, data)
	}
	job("[45, 30]")
	other := filepath.Join(dir, "none.svg")
	if status, _, errs := call(t, "sheet", name, "-o", other, "--part", "templates"); status != exitJob || !strings.Contains(errs, "no template") {
		t.Errorf("%d %s", status, errs)
	}
	if _, err := os.Stat(other); err == nil {
		t.Error("a drawing of no template is written")
	}
	if status, _, errs := call(t, "sheet", name, "-o", out, "--part", "cuts"); status != exitUse || !strings.Contains(errs, "templates for .svg") {
		t.Errorf("%d %s", status, errs)
	}
}
