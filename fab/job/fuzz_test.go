package job

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bench.example/soapstone/fab/text"
)

// FuzzRead: no text makes the reader panic, and what it says is fit to print. A job without errors holds no impossible
// values.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"../../testdata/*.toml", "../../stock/example/*.toml", "testdata/broken/*.toml"} {
		files, _ := filepath.Glob(pattern)
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data, []byte("units = \"mm\"\n[saw]\nkerf = 2\n"))
		}
	}
	f.Add([]byte("0=\u0301"), []byte("0%!00"))
	f.Fuzz(func(t *testing.T, data, shop []byte) {
		j, ps := Read("job.toml", data, File{"shop.toml", shop})
		misprinted := !bytes.Contains(data, []byte("%")) && !bytes.Contains(shop, []byte("%")) // else it may be a quotation
		for _, p := range ps {
			if s := p.Long(); text.Clean(p.String()) != p.String() || text.Clean(strings.ReplaceAll(p.Quote, "\n", "")) != strings.ReplaceAll(p.Quote, "\n", "") || p.Message == "" || misprinted && strings.Contains(s, "%!") {
				t.Fatalf("%q", s)
			}
			if p.Code == text.CodeOurs {
				t.Fatal(p)
			}
		}
		if text.HasErrors(ps) {
			return
		}
		for _, r := range j.Rectangles {
			if r.Length <= 0 || r.Width <= 0 || r.Name == "" || r.Clear < 0 {
				t.Fatalf("%+v", r)
			}
			if _, ok := j.Section(r.Section); !ok {
				t.Fatalf("section %q", r.Section)
			}
		}
		for _, p := range j.Pieces {
			if p.Length <= 0 || p.Qty < 1 || p.Ends[0] >= 90 || p.Ends[0] <= -90 {
				t.Fatalf("%+v", p)
			}
		}
		for _, c := range j.Crossbars {
			n := 0
			for _, given := range []bool{c.Count > 0, c.Spacing > 0, c.Gap > 0, len(c.At) > 0} {
				if given {
					n++
				}
			}
			if n != 1 {
				t.Fatalf("%+v", c)
			}
		}
		if w := j.Welder; w != nil && (w.Amps <= 0 || w.Volts <= 0 || w.Window <= 0 || len(w.Duty) == 0 || w.TravelMMs <= 0 && w.DepositKGs <= 0) {
			t.Fatalf("%+v", w)
		}
		if j.Saw.Kerf < 0 || j.Saw.Trim < 0 || j.Saw.Swing[0] > j.Saw.Swing[1] {
			t.Fatalf("%+v", j.Saw)
		}
	})
}

// TestHostileJobsStayCheap reads jobs of 1 MB that are valid TOML and full of mistakes or of tables. Measured on
// two free cores: at most 0.5 s. The bound is wide because machines are shared: it catches a quadratic, not a slow day.
func TestHostileJobsStayCheap(t *testing.T) {
	size := text.MaxBytes / 4
	if os.Getenv("SOAK") != "" {
		size = text.MaxBytes
	}
	rep := func(s string) []byte { return []byte(strings.Repeat(s, size/len(s))) }
	var unknown strings.Builder
	for i := 0; unknown.Len() < size-200; i++ {
		unknown.WriteString("[[rectangle]]\nname = \"" + strings.Repeat("n", i%40) + string(rune('a'+i%26)) + "\"\nsection = \"rial\"\nabove = \"x\"\nlength = 1\nwidth = 1\n")
	}
	for name, src := range map[string][]byte{
		"unknown names": []byte(unknown.String()),
		"unnamed":       rep("[[rectangle]]\nlength=1\nwidth=1\n"),
		"pieces":        append([]byte("[section.r]\nshape=\"flat\"\nsize=\"1 x 1/4\"\n"), rep("[[piece]]\nsection=\"r\"\nlength=1\n")[:size-4000]...),
		"members":       rep("[[member]]\nfrom=[0,0,0]\nto=\"memb1\"\n"),
		"empty":         rep("[[joint]]\n"),
	} {
		start := time.Now()
		_, ps := Read("job.toml", src)
		took := time.Since(start)
		t.Logf("%-15s %6.1f ms, %d problems", name, float64(took.Microseconds())/1000, len(ps))
		if took > 20*time.Second {
			t.Errorf("%s: %v", name, took)
		}
	}
}

// TestLimits crosses each limit of the job and reads the message.
func TestLimits(t *testing.T) {
	head := "[section.r]\nshape=\"flat\"\nsize=\"1 x 1/4\"\n"
	for _, c := range []struct{ src, want string }{
		{head + strings.Repeat("[[piece]]\nsection=\"r\"\nlength=1\n", MaxTables+1), "job.toml:6004: piece[2001]: more than 2000 of these tables; split the job"},
		{head + "[[piece]]\nsection=\"r\"\nlength=1\nqty=10001\n", "job.toml:7: piece.qty: 10001 cannot be; write a whole number from 1 to 10000"},
		{head + strings.Repeat("[[piece]]\nsection=\"r\"\nlength=1\nqty=10000\n", 3), "job.toml: the job makes 30000 pieces; more than 20000 are not planned at once: split the job"},
		{head + "[[rectangle]]\nname=\"a\"\nsection=\"r\"\nlength=9\nwidth=9\n[[crossbars]]\non=\"a\"\nsection=\"r\"\ncount=501\n", "job.toml:12: crossbars.count: 501 cannot be; write a whole number from 1 to 500"},
		{head + "[[piece]]\nsection=\"r\"\nlength=\"20km\"\n", `job.toml:6: piece.length: "20km" is no length: "km" is not a unit of length; write 96in, 3-1/2", 8' 3-1/2" or 2440mm`},
		{head + "[[piece]]\nsection=\"r\"\nlength=\"20000m\"\n", `job.toml:6: piece.length: "20000m" is no length: longer than 10 km; write 96in, 3-1/2", 8' 3-1/2" or 2440mm`},
		{head + "[[rectangle]]\nname=\"" + strings.Repeat("n", 81) + "\"\nsection=\"r\"\nlength=9\nwidth=9\n", "job.toml:5: rectangle.name: a name is at most 80 characters long"},
	} {
		_, ps := Read("job.toml", []byte(c.src))
		if len(ps) != 1 || ps[0].String() != c.want {
			t.Errorf("%v\nwant %s", ps, c.want)
		}
	}
}
