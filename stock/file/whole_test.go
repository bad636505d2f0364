//go:build unix

package file_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"

	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/file/trouble"
)

func write(t *testing.T, path, text string, opt file.Options) {
	t.Helper()
	if err := file.Write(file.OS, path, []byte(text), opt); err != nil {
		t.Fatal(err)
	}
}

func reads(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v; want %q", path, got, err, want)
	}
}

func only(t *testing.T, dir string, names ...string) {
	t.Helper()
	got, err := file.OS.Names(dir)
	if err != nil || fmt.Sprint(got) != fmt.Sprint(names) {
		t.Errorf("the folder holds %v, %v; want %v", got, err, names)
	}
}

func TestWriteKeepsPermissions(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "kayak-rack.toml")
	for _, perm := range []fs.FileMode{0o600, 0o644, 0o640, 0o666, 0o755} {
		write(t, path, "one", file.Options{})
		if err := os.Chmod(path, perm); err != nil {
			t.Fatal(err)
		}
		write(t, path, "two", file.Options{})
		info, err := os.Stat(path)
		if err != nil || info.Mode().Perm() != perm {
			t.Errorf("permissions %v became %v, %v", perm, info.Mode().Perm(), err)
		}
		reads(t, path, "two")
	}
	only(t, dir, "kayak-rack.toml")
	fresh := filepath.Join(dir, "new")
	write(t, fresh, "x", file.Options{Perm: 0o600})
	if info, _ := os.Stat(fresh); info.Mode().Perm() != 0o600 {
		t.Errorf("a new file has %v", info.Mode())
	}
}

// A link stays a link; the file behind it is the one that is replaced, in its own folder.
func TestWriteFollowsLinks(t *testing.T) {
	dir := t.TempDir()
	there := filepath.Join(dir, "there")
	os.Mkdir(there, 0o777)
	link, second := filepath.Join(dir, "job.toml"), filepath.Join(dir, "second.toml")
	os.Symlink("there/real.toml", link)
	os.Symlink(link, second)
	write(t, second, "by a link that led nowhere", file.Options{})
	reads(t, filepath.Join(there, "real.toml"), "by a link that led nowhere")
	write(t, link, "again", file.Options{})
	reads(t, filepath.Join(there, "real.toml"), "again")
	for _, l := range []string{link, second} {
		if info, err := os.Lstat(l); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			t.Errorf("%s is no link any more", l)
		}
	}
	only(t, dir, "job.toml", "second.toml", "there")
	round := filepath.Join(dir, "round")
	os.Symlink("round", round)
	if err := file.Write(file.OS, round, nil, file.Options{}); err == nil || !strings.Contains(err.Error(), "go round in a circle") {
		t.Errorf("a link to itself: %v", err)
	}
}

// A link's way up goes from where its folder really is: "up/job.toml" with up -> deep/down and job.toml -> ../real.toml
// is deep/real.toml, which the letters alone would not tell.
func TestLinksInLinkedFolders(t *testing.T) {
	dir := t.TempDir()
	os.MkdirAll(filepath.Join(dir, "deep", "down"), 0o777)
	os.Symlink("deep/down", filepath.Join(dir, "up"))
	os.Symlink("../real.toml", filepath.Join(dir, "up", "job.toml"))
	for i, name := range []string{"up/job.toml", "up/../real.toml"} {
		text := fmt.Sprint("text ", i)
		write(t, dir+"/"+name, text, file.Options{})
		reads(t, filepath.Join(dir, "deep", "real.toml"), text)
		reads(t, dir+"/"+name, text)
	}
	only(t, dir, "deep", "up")
	only(t, filepath.Join(dir, "deep"), "down", "real.toml")
	t.Chdir(dir)
	for path, want := range map[string][2]string{
		"job.toml": {".", "x"}, "a/job.toml": {"a", "a/x"}, "./job.toml": {".", "./x"}, "/job.toml": {"/", "/x"}, "up/../job.toml": {"up/..", "up/../x"}, "a//job.toml": {"a", "a/x"},
	} {
		if got := [2]string{file.Folder(path), file.Beside(path, "x")}; got != want {
			t.Errorf("folder of, and x beside, %s: %q, want %q", path, got, want)
		}
	}
	write(t, "plain.toml", "here", file.Options{})
	reads(t, filepath.Join(dir, "plain.toml"), "here")
}

func TestWriteRefuses(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	if err := file.Write(file.OS, dir, nil, file.Options{}); !errors.Is(err, file.ErrNotOrdinary) || !strings.Contains(err.Error(), "it is a folder") {
		t.Errorf("a folder: %v", err)
	}
	if err := file.Write(file.OS, filepath.Join(dir, "no", "job.toml"), nil, file.Options{}); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "nothing was written") {
		t.Errorf("a folder that is not there: %v", err)
	}
	write(t, path, "mine", file.Options{Fresh: true})
	if err := file.Write(file.OS, path, nil, file.Options{Fresh: true}); !errors.Is(err, fs.ErrExist) {
		t.Errorf("fresh over something: %v", err)
	}
	_, stamp, err := file.Read(file.OS, path, file.MaxText)
	if err != nil {
		t.Fatal(err)
	}
	write(t, path, "edited elsewhere", file.Options{})
	if err := file.Write(file.OS, path, []byte("mine too"), file.Options{Expect: &stamp}); !errors.Is(err, file.ErrChanged) || !strings.Contains(err.Error(), "untouched") {
		t.Errorf("over an edit from outside: %v", err)
	}
	reads(t, path, "edited elsewhere")
	_, stamp, _ = file.Read(file.OS, path, file.MaxText)
	write(t, path, "mine", file.Options{Expect: &stamp})
	os.Remove(path)
	if err := file.Write(file.OS, path, nil, file.Options{Expect: &stamp}); !errors.Is(err, file.ErrChanged) {
		t.Errorf("over a file that is gone: %v", err)
	}
	only(t, dir)
}

// A file that its owner made read-only is left alone. (Root may write anything, so this runs
// on the disk in memory.)
func TestReadOnlyFileStays(t *testing.T) {
	d := trouble.New("/w")
	d.Put("/w/job.toml", "keep me", 0o444)
	err := file.Write(d, "/w/job.toml", []byte("new"), file.Options{})
	if !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "no permission; the file as it was is untouched") {
		t.Errorf("%v", err)
	}
	if text, _ := d.Text("/w/job.toml"); text != "keep me" {
		t.Errorf("it holds %q", text)
	}
}

func TestReadLimits(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	write(t, path, "12345", file.Options{})
	if text, stamp, err := file.Read(file.OS, path, 5); err != nil || string(text) != "12345" || stamp != file.StampOf([]byte("12345")) {
		t.Errorf("at the limit: %q %v", text, err)
	}
	if _, _, err := file.Read(file.OS, path, 4); !errors.Is(err, file.ErrTooLong) || !strings.Contains(err.Error(), "it has 5 bytes, the limit is 4") {
		t.Errorf("beyond the limit: %v", err)
	}
	if _, _, err := file.Read(file.OS, dir, 5); !errors.Is(err, file.ErrNotOrdinary) {
		t.Errorf("a folder: %v", err)
	}
	if _, _, err := file.Read(file.OS, "/dev/zero", 5); !errors.Is(err, file.ErrNotOrdinary) {
		t.Errorf("a device without end: %v", err)
	}
	pipe := filepath.Join(dir, "pipe")
	if syscall.Mkfifo(pipe, 0o666) == nil {
		if _, _, err := file.Read(file.OS, pipe, 5); !errors.Is(err, file.ErrNotOrdinary) {
			t.Errorf("a pipe that nobody writes to: %v", err)
		}
	}
	if _, _, err := file.Read(file.OS, filepath.Join(dir, "none"), 5); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "it is not there") {
		t.Errorf("no file: %v", err)
	}
}

// A leftover of a process that was killed is cleared away; one in use is not.
func TestLeftoversAreSwept(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "job.toml")
	dead, alive := filepath.Join(dir, ".job.toml.aside-0000dead"), filepath.Join(dir, ".job.toml.aside-0000beef")
	os.WriteFile(dead, []byte("half"), 0o666)
	os.WriteFile(alive, []byte("half"), 0o666)
	h, err := file.OS.OpenFile(alive, os.O_RDWR, 0)
	if err != nil || h.Lock(true) != nil {
		t.Fatal(err)
	}
	defer h.Close()
	write(t, path, "x", file.Options{})
	only(t, dir, filepath.Base(alive), "job.toml")
}

// Many writers at once: every reader at any time meets one whole text.
func TestNeverHalf(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job.toml")
	text := func(i int) string { return strings.Repeat(string(rune('a'+i)), 100_000) }
	write(t, path, text(0), file.Options{})
	var writers sync.WaitGroup
	for i := range 4 {
		writers.Go(func() {
			for range 10 {
				if err := file.Write(file.OS, path, []byte(text(i)), file.Options{}); err != nil {
					t.Error(err)
				}
			}
		})
	}
	done := make(chan bool)
	go func() { writers.Wait(); close(done) }()
	for n := 0; ; n++ {
		got, _, err := file.Read(file.OS, path, file.MaxText)
		if err != nil || len(got) != 100_000 || strings.Count(string(got), string(got[:1])) != len(got) {
			t.Fatalf("half a file: %d bytes, %v", len(got), err)
		}
		select {
		case <-done:
			only(t, filepath.Dir(path), "job.toml")
			return
		default:
		}
	}
}

// Every call of one save fails in turn, in every way: what is there is the old text or the
// new, whole, and the error says which.
func TestEveryFaultOfASave(t *testing.T) {
	plain := trouble.New("/w")
	plain.Put("/w/job.toml", "old", 0o640)
	var trace []trouble.Call
	plain.Plan = func(c trouble.Call) trouble.Fault { trace = append(trace, c); return trouble.Fault{} }
	if err := file.Write(plain, "/w/job.toml", []byte("new text"), file.Options{}); err != nil {
		t.Fatal(err)
	}
	injected := 0
	for _, c := range trace {
		for _, e := range []syscall.Errno{syscall.ENOSPC, syscall.EIO, syscall.EROFS, syscall.EACCES, syscall.EINTR} {
			for _, after := range []bool{false, true} {
				d := trouble.New("/w")
				d.Put("/w/job.toml", "old", 0o640)
				d.Plan = func(now trouble.Call) trouble.Fault {
					if now.N == c.N {
						return trouble.Fault{Err: e, After: after, Bytes: 3}
					}
					return trouble.Fault{}
				}
				err := file.Write(d, "/w/job.toml", []byte("new text"), file.Options{})
				injected++
				got, _ := d.Text("/w/job.toml")
				where := fmt.Sprintf("call %d (%s), %v, after %v", c.N, c.Kind, e, after)
				switch {
				case err == nil && got != "new text":
					t.Errorf("%s: no error, and it holds %q", where, got)
				case err != nil && strings.Contains(err.Error(), "untouched") && got != "old":
					t.Errorf("%s: %v, and it holds %q", where, err, got)
				case err != nil && got != "old" && got != "new text":
					t.Errorf("%s: %q", where, got)
				case err != nil && !strings.Contains(err.Error(), "/w/job.toml"):
					t.Errorf("%s: the error does not say where: %v", where, err)
				case err != nil && !strings.Contains(err.Error(), file.Plain(e)):
					t.Errorf("%s: the error does not say why: %v", where, err)
				}
			}
		}
	}
	t.Logf("%d faults at the %d calls of a save", injected, len(trace))
}

func ExampleWrite() {
	dir, err := os.MkdirTemp("", "soapstone")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "kayak-rack.toml")
	fmt.Println(file.Write(file.OS, path, []byte("title = \"Kayak rack\"\n"), file.Options{}))
	text, stamp, err := file.Read(file.OS, path, file.MaxText)
	fmt.Printf("%q %v\n", text, err)
	// Only if nobody else has edited it since:
	fmt.Println(file.Write(file.OS, path, []byte("title = \"Canoe rack\"\n"), file.Options{Expect: &stamp}))
	// Output:
	// <nil>
	// "title = \"Kayak rack\"\n" <nil>
	// <nil>
}
