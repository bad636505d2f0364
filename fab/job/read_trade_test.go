package job

import (
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

const tradeBase = "[section.a]\nshape = \"flat\"\nsize = \"2 x 1/4\"\n[[piece]]\nsection = \"a\"\nlength = \"10in\"\n"

// TestTradeFaults: what cannot be is said with the key and with what would be right.
func TestTradeFaults(t *testing.T) {
	for _, c := range []struct{ toml, says string }{
		{"[quote]\nmarkup = \"20%\"\nmargin = \"20%\"\n", "markup is given too: a markup is a share of the cost, a margin a share of the price; give one of them"},
		{"[quote]\nmargin = \"100%\"\n", "a margin must be less than 100%"},
		{"[quote]\nspool = \"10lb\"\n", "spool and spool_price go together"},
		{"[quote]\nblade_price = 30\n", "blade_area and blade_price go together"},
		{"[quote]\nbottle = \"80cuft\"\nbottle_price = 60\n", "bottle needs gas_flow"},
		{"[quote]\noverhead = \"20%\"\noverhead_hour = 10\n", "give one of the two"},
		{"[quote]\nprice = 30\n", "there is no key price"},
		{"[labour]\ndeburr = \"2\"\n", "the unit is missing"},
		{"[labour]\nday = \"30h\"\n", "a day has 24h"},
		{"[paint]\nprep = \"SP 99\"\n", "is not among"},
		{"[paint.primer]\nsolids = \"2%\"\n", "between 5% and 100% solids"},
		{"[paint.top]\nfilm = \"2\"\n", "the unit is missing"},
		{"[paint.top]\nfilm = \"1in\"\n", "thicker than 2 mm"},
		{"[paint.top]\ncans = [ {price = 3} ]\n", "size is missing"},
	} {
		_, ps := Read("job.toml", []byte(tradeBase+c.toml))
		found := false
		for _, p := range ps {
			found = found || p.Severity == text.Error && strings.Contains(p.String(), c.says)
		}
		if !found {
			t.Errorf("%q: %v does not say %q", c.toml, ps, c.says)
		}
	}
}

// TestTradeOfTheShop: the shop's tables stand under the job's key by key; a job that names a margin is not held to the shop's
// markup; defaults are the stated ones.
func TestTradeOfTheShop(t *testing.T) {
	shop := File{Name: "shop.toml", Data: []byte("[labour]\nrate = 45\ndeburr = \"40s\"\n[quote]\nmarkup = \"30%\"\ntax = \"8.25%\"\n[paint.primer]\nsolids = \"60%\"\n")}
	j, ps := Read("job.toml", []byte(tradeBase+"[labour]\ndeburr = \"20s\"\n[quote]\nmargin = \"25%\"\n[paint]\nplace = \"indoors\"\n[paint.primer]\nfilm = \"50um\"\n"), shop)
	if len(ps) != 0 {
		t.Fatal(ps)
	}
	if l := j.Labour; l.Rate != 45*measure.Whole || l.Time(PaceDeburr) != 20*time.Second || !l.Own(PaceDeburr) || l.Own(PaceFit) || l.Time(PaceFit) != time.Minute || l.Day != 8*time.Hour {
		t.Errorf("%+v", l)
	}
	if q := j.Quote; !q.ByMargin || q.Margin != .25 || q.Tax != .0825 || q.Many != 5 || !q.RoundUp {
		t.Errorf("%+v", q)
	}
	if p := j.Paint; !p.Indoors || p.Primer.Solids != .60 || p.Primer.FilmMM != .05 || !p.Primer.Own("film") || p.Primer.Own("coats") || p.Top.Coats != 1 || p.Primer.Method != "brush" {
		t.Errorf("%+v", p)
	}
}
