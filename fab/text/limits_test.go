package text

import (
	"bytes"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
)

// TestLimits crosses every limit and reads the message.
func TestLimits(t *testing.T) {
	many := func(s string, n int) string { return strings.Repeat(s, n) }
	for _, c := range []struct{ src, want string }{
		{many("#", MaxBytes+1), "job.toml: the file is larger than 1 MB (1048577 bytes); a job is a few kilobytes"},
		{"a = " + many("[", 13) + many("]", 13), "job.toml:1: lists and tables more than 12 deep"},
		{"a = " + many("{a = ", 13) + "1" + many("}", 13), "job.toml:1: tables more than 12 deep; a job needs three"},
		{"a = " + many("[", 500_000), "job.toml:1: lists and tables more than 12 deep"},
		{"a = " + many("{a=", 300_000), "job.toml:1: tables more than 12 deep; a job needs three"},
		{many("a.", 12) + "a = 1", "job.toml:1: tables more than 12 deep; a job needs three"},
		{"[" + many("a.", 12) + "a]", "job.toml:1: tables more than 12 deep; a job needs three"},
		{many("k", 81) + " = 1", "job.toml:1: a name longer than 80 characters"},
		{"[" + many(many("k", 60)+".", 4) + "k.k.k.k.k.k.k]", "job.toml:1: the names of this table and its keys are longer than 256 characters together"},
		{"a = [" + many("1,", 100_001) + "]", "job.toml:1: more than 100000 keys and values; split the job"},
	} {
		start := time.Now()
		d, ps := Parse("job.toml", []byte(c.src))
		if d != nil || len(ps) != 1 || ps[0].String() != c.want || ps[0].Code != CodeTooMuch {
			t.Errorf("%.20q: %v, want %s", c.src, ps, c.want)
		}
		if took := time.Since(start); took > 20*time.Second {
			t.Errorf("%.20q took %v", c.src, took)
		}
	}
}

// hostile are texts of up to 1 MB made to cost as much as they can.
func hostile() map[string][]byte {
	rep := func(s string) []byte { return bytes.Repeat([]byte(s), MaxBytes/len(s)) }
	var keys, dotted, tables, values bytes.Buffer
	for i := 0; keys.Len() < MaxBytes-20; i++ {
		keys.WriteString(strings.Repeat("k", i%60) + itoa(i) + "=1\n")
	}
	for i := 0; dotted.Len() < MaxBytes-300; i++ {
		dotted.WriteString(strings.Repeat("kkkkkkkkkkkkkkk.", 10) + itoa(i) + "=1\n")
	}
	for i := 0; tables.Len() < MaxBytes-20; i++ {
		tables.WriteString("[t" + itoa(i) + "]\n")
	}
	values.WriteString("[" + strings.Repeat("kkkkkkkkkkkkkkk.", 10) + "k]\n")
	for i := 0; values.Len() < MaxBytes-20; i++ {
		values.WriteString(itoa(i) + "=1\n")
	}
	return map[string][]byte{
		"keys": keys.Bytes(), "dotted": dotted.Bytes(), "tables": tables.Bytes(), "keys of a deep table": values.Bytes(),
		"array tables": rep("[[a]]\n"), "double keys": rep("a=1\n"), "double tables": rep("[a]\n"), "lists": rep("[[[[[[[[[[[["),
		"quotes": rep(`"`), "long text": append([]byte(`a="""`), rep(`\ `)...), "backslashes": append([]byte(`a="""`), rep(`\\`)...),
		"line ends": rep("\n"), "CR LF": rep("\r\n"), "comments": rep("#\n"), "dots": rep("."), "one word": rep("a"), "zeros": rep("0"),
		"number": append([]byte("a="), rep("9")...), "float": append([]byte("a=1."), rep("9")...), "dates": append([]byte("a=2026-"), rep(" ")...),
		"open list": append([]byte("a=["), rep("1,")...), "open tables": append([]byte("a=["), rep("{},")...), "headers": rep("[a.b]\n[[c]]\n"),
		"marks": rep("\u0301"), "wide": append([]byte("a='"), rep("漢")...),
	}
}

func itoa(i int) string {
	const d = "0123456789abcdef"
	s := ""
	for {
		s = string(d[i%16]) + s
		if i /= 16; i == 0 {
			return s
		}
	}
}

// TestHostileTextsStayCheap: any text of 1 MB is read or refused in little time and memory; without SOAK=1 a quarter
// of that. Measured for 1 MB on two free cores: at most 0.6 s and 130 MB allocated. The bound on time is wide because
// machines are shared: it catches a quadratic, not a slow day.
func TestHostileTextsStayCheap(t *testing.T) {
	size := MaxBytes / 4
	if os.Getenv("SOAK") != "" {
		size = MaxBytes
	}
	for name, src := range hostile() {
		src = src[:min(len(src), size)]
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		Parse("job.toml", src)
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		mb := (after.TotalAlloc - before.TotalAlloc) >> 20
		t.Logf("%-22s %8.1f ms %5d MB", name, float64(took.Microseconds())/1000, mb)
		if took > 20*time.Second || mb > 200 {
			t.Errorf("%s: %v, %d MB", name, took, mb)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	src := []byte(strings.Repeat("[[piece]]\nmark = \"A\"\nsection = \"rail\" # steel\nlength = \"57-3/8in\"\nqty = 4\nends = [45, 45]\n\n", 50))
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		if d, _ := Parse("job.toml", src); d == nil {
			b.Fatal("refused")
		}
	}
}
