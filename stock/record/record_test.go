package record

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/file/trouble"
)

// open opens a record and returns the payloads that it holds.
func open(t *testing.T, path string, opt Options) (*Record, []string, []Note) {
	t.Helper()
	var held []string
	opt.Visit = func(e Entry) { held = append(held, string(e.Payload)) }
	r, notes, err := Open(file.OS, path, opt)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	return r, held, notes
}

func put(t *testing.T, r *Record, payloads ...string) News {
	t.Helper()
	var drafts []Draft
	for _, p := range payloads {
		drafts = append(drafts, Draft{At: 1, Payload: []byte(p)})
	}
	news, err := r.Append(drafts...)
	if err != nil {
		t.Fatal(err)
	}
	return news
}

func payloads(n News) (p []string) {
	for _, e := range n.Entries {
		p = append(p, string(e.Payload))
	}
	return p
}

func same(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: got %q, want %q", what, got, want)
	}
}

func kinds(notes []Note) (k []NoteKind) {
	for _, n := range notes {
		k = append(k, n.Kind)
	}
	return k
}

func TestAppendAndReadBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kayak-rack.record")
	r, held, notes := open(t, path, Options{})
	if len(held)+len(notes) > 0 {
		t.Errorf("a new record holds %q and tells %v", held, notes)
	}
	same(t, "news of the first append", payloads(put(t, r, "one")), "one")
	same(t, "news of the second", payloads(put(t, r, "two", "three")), "two", "three")
	r.Close()
	if _, err := r.Append(Draft{Payload: []byte("late")}); !errors.Is(err, ErrClosed) {
		t.Errorf("append after Close: %v", err)
	}
	r, held, notes = open(t, path, Options{})
	same(t, "reopened", held, "one", "two", "three")
	if len(notes) > 0 {
		t.Errorf("told %v", notes)
	}
	same(t, "append after reopening", payloads(put(t, r, "four")), "four")
	_, held, _ = open(t, path, Options{ReadOnly: true})
	same(t, "read only", held, "one", "two", "three", "four")
}

func TestTwoWindows(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	a, _, _ := open(t, path, Options{})
	b, _, _ := open(t, path, Options{})
	put(t, a, "a1")
	same(t, "b appends and sees a's entry first", payloads(put(t, b, "b1")), "a1", "b1")
	news, err := a.Poll()
	if err != nil {
		t.Fatal(err)
	}
	same(t, "a polls", payloads(news), "b1")
	news, _ = a.Poll()
	same(t, "a polls again", payloads(news))
}

// The same draft, tried again, stands in the record once, whoever asks.
func TestAgainIsOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	a, _, _ := open(t, path, Options{})
	d := Draft{ID: a.Next(), Payload: []byte("cut")}
	for range 3 {
		if _, err := a.Append(d, d); err != nil {
			t.Fatal(err)
		}
	}
	b, held, _ := open(t, path, Options{})
	same(t, "held", held, "cut")
	if news, err := b.Append(d); err != nil || len(news.Entries) > 0 {
		t.Errorf("another window tries the same draft: %v %v", news, err)
	}
}

func TestTornTailIsSetAside(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "r")
	r, _, _ := open(t, path, Options{})
	put(t, r, "one", "two", "three")
	r.Close()
	all, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	last := bytes.LastIndexByte(all[:len(all)-1], '\n') + 1
	for cut := last + 1; cut < len(all); cut++ {
		for _, zeros := range []int{0, 7} {
			if zeros > 0 && cut == len(all)-1 {
				continue // only the line feed is lost: the entry is whole, and kept
			}
			torn := append(bytes.Clone(all[:cut]), make([]byte, zeros)...)
			if err := os.WriteFile(path, torn, 0o666); err != nil {
				t.Fatal(err)
			}
			os.Remove(path + ".aside-1")
			r, held, notes := open(t, path, Options{})
			same(t, "held", held, "one", "two")
			if k := kinds(notes); !slices.Equal(k, []NoteKind{TornTail}) {
				t.Fatalf("cut at %d: told %v", cut, notes)
			}
			if aside, err := os.ReadFile(path + ".aside-1"); err != nil || !bytes.Equal(aside, torn[last:]) {
				t.Fatalf("cut at %d: side file %q, %v", cut, aside, err)
			}
			put(t, r, "four")
			r.Close()
			r, held, notes = open(t, path, Options{})
			same(t, "after mending", held, "one", "two", "four")
			if len(notes) > 0 {
				t.Fatalf("cut at %d: told again %v", cut, notes)
			}
			r.Close()
		}
	}
}

// Damage costs the line it touches and no other, wherever it falls.
func TestDamageInTheMiddle(t *testing.T) {
	d := trouble.New("/r")
	const path = "/r/kayak-rack.record"
	r, _, _ := onDisk(t, d)
	var want []string
	for i := range 6 {
		want = append(want, fmt.Sprintf("entry %d", i))
	}
	put(t, r, want...)
	r.Close()
	text, _ := d.Text(path)
	all := []byte(text)
	starts := []int{0}
	for i, c := range all[:len(all)-1] {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	for i := range all {
		for _, bit := range []byte{0x01, 0x10, 0x80} {
			hurt := bytes.Clone(all)
			hurt[i] ^= bit
			d.Put(path, string(hurt), 0o666)
			line, _ := slices.BinarySearch(starts, i+1)
			line--
			r, held, notes := onDisk(t, d)
			left := slices.Delete(slices.Clone(want), line, line+1)
			feed := hurt[i] != all[i] && all[i] == '\n'
			if !(feed && slices.Equal(held, want)) {
				same(t, fmt.Sprintf("byte %d bit %#x", i, bit), held, left...)
			}
			if len(notes) != 1 {
				t.Fatalf("byte %d bit %#x: told %v", i, bit, notes)
			}
			// Damage, repair, then write again.
			put(t, r, "more")
			r.Close()
			r, again, notes := onDisk(t, d)
			same(t, fmt.Sprintf("byte %d bit %#x, written again", i, bit), again, append(held, "more")...)
			for _, n := range notes {
				if n.Kind != Damaged && n.Kind != NewerFormat {
					t.Fatalf("byte %d bit %#x: told %v", i, bit, n)
				}
			}
			r.Close()
		}
	}
}

func TestNotARecord(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	for _, text := range []string{"title = \"Kayak rack\"\n", "x", "\x89PNG\r\n", strings.Repeat("\x00", 40) + "GIF"} {
		os.WriteFile(path, []byte(text), 0o666)
		if _, _, err := Open(file.OS, path, Options{}); !errors.Is(err, ErrNotRecord) {
			t.Errorf("%q: %v", text, err)
		}
		if now, _ := os.ReadFile(path); string(now) != text {
			t.Errorf("%q was changed to %q", text, now)
		}
	}
	if _, _, err := Open(file.OS, t.TempDir(), Options{}); !errors.Is(err, file.ErrNotOrdinary) {
		t.Errorf("a folder: %v", err)
	}
}

func TestPayloadLimits(t *testing.T) {
	r, _, _ := open(t, filepath.Join(t.TempDir(), "r"), Options{})
	put(t, r, strings.Repeat("x", MaxPayload))
	for p, want := range map[string]string{
		"":                                "it is empty",
		"a\nb":                            "it holds a line feed or a zero byte",
		"a\x00b":                          "it holds a line feed or a zero byte",
		strings.Repeat("x", MaxPayload+1): "it has 65537 bytes, the limit is 65536",
	} {
		if _, err := r.Append(Draft{Payload: []byte(p)}); !errors.Is(err, ErrPayload) || !strings.Contains(err.Error(), want) {
			t.Errorf("%.9q: %v, want %s", p, err, want)
		}
	}
	var many []Draft
	for range maxBatch/MaxPayload + 1 {
		many = append(many, Draft{Payload: []byte(strings.Repeat("x", MaxPayload))})
	}
	if _, err := r.Append(many...); !errors.Is(err, ErrPayload) || !strings.Contains(err.Error(), "bytes at once, the limit is 1048576") {
		t.Errorf("%d of the longest at once: %v", len(many), err)
	}
	put(t, r, "nothing of them was written")
}

func TestGoneAndShortened(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	r, _, _ := open(t, path, Options{})
	put(t, r, "one", "two")
	all, _ := os.ReadFile(path)
	os.WriteFile(path, all[:len(all)/2], 0o666)
	news := put(t, r, "three")
	same(t, "after shortening", payloads(news), "three")
	if !slices.Contains(kinds(news.Notes), Shortened) {
		t.Errorf("told %v", news.Notes)
	}
	_, held, _ := open(t, path, Options{})
	same(t, "held", held, "one", "three")
	os.Remove(path)
	if _, err := r.Append(Draft{Payload: []byte("x")}); !errors.Is(err, ErrGone) {
		t.Errorf("append after removal: %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a new record was begun behind the user's back")
	}
}

func TestCompact(t *testing.T) {
	path := filepath.Join(t.TempDir(), "r")
	a, _, _ := open(t, path, Options{})
	b, _, _ := open(t, path, Options{})
	put(t, a, "keep 1", "drop 1", "keep 2")
	put(t, b, "drop 2", "keep 3")
	news, err := a.Compact(func(e Entry) bool { return strings.HasPrefix(string(e.Payload), "keep") })
	if err != nil {
		t.Fatal(err)
	}
	same(t, "what a had not seen", payloads(news), "drop 2", "keep 3")
	same(t, "b goes over", payloads(put(t, b, "keep 4")), "keep 4")
	same(t, "a stays with it", payloads(put(t, a, "keep 5")), "keep 4", "keep 5")
	_, held, notes := open(t, path, Options{})
	same(t, "held", held, "keep 1", "keep 2", "keep 3", "keep 4", "keep 5")
	if len(notes) > 0 {
		t.Errorf("told %v", notes)
	}
	if _, err := os.Stat(path + ".compact"); err == nil {
		t.Error("the copy was left behind")
	}
}

// A record may be a link, which stays one: entries, what is set aside and the compacted file go where it leads.
func TestRecordByLink(t *testing.T) {
	dir := t.TempDir()
	os.Mkdir(filepath.Join(dir, "there"), 0o777)
	link, real := filepath.Join(dir, "x.record"), filepath.Join(dir, "there", "y.record")
	if err := os.Symlink("there/y.record", link); err != nil {
		t.Skip("no links here:", err)
	}
	r, _, _ := open(t, link, Options{})
	put(t, r, "one", "two")
	f, err := os.OpenFile(real, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	f.WriteString("=1 3 torn")
	f.Close()
	r.Close()
	r, held, notes := open(t, link, Options{})
	same(t, "by the link", held, "one", "two")
	if len(notes) != 1 || notes[0].Aside != real+".aside-1" {
		t.Errorf("told %+v", notes)
	}
	if _, err := r.Compact(func(e Entry) bool { return string(e.Payload) == "two" }); err != nil {
		t.Fatal(err)
	}
	r.Close()
	_, held, _ = open(t, real, Options{})
	same(t, "by its own name", held, "two")
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link is no link any more")
	}
}
