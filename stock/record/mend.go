package record

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"

	"bench.example/soapstone/stock/file"
)

// NoteKind says what a note is about.
type NoteKind int

// The kinds of notes.
const (
	TornTail    NoteKind = iota + 1 // an interrupted write, set aside
	Damaged                         // bytes in the middle that cannot be read
	Shortened                       // somebody else made the file shorter while it was open
	Missing                         // numbers that are not there
	Doubled                         // an entry that stands there twice; counted once
	NewerFormat                     // entries of a later version of the format
	CannotWrite                     // the record can be read but not written
)

// Note is something that the user must be told about the record.
type Note struct {
	Kind      NoteKind
	Text      string // one line, for the user
	Off, Size int64  // bytes in the file, where that applies
	Count     int    // entries, about, where that applies
	Aside     string // side file that holds the bytes, if any
}

// taken is what catching up gathers, so that a thousand like things make a few notes.
type taken struct {
	news           *News
	doubled, newer int
	count          map[NoteKind]int
	more           map[NoteKind]int64 // bytes of the notes beyond the most that are told one by one
}

const maxNotes = 20 // of a kind

func (t *taken) note(n Note) {
	if t.count[n.Kind]++; t.count[n.Kind] <= maxNotes {
		t.news.Notes = append(t.news.Notes, n)
		return
	}
	t.more[n.Kind] += n.Size
}

// catchUp reads everything behind r.end and, where the record can be written and the lock is
// exclusive, mends the tail.
func (r *Record) catchUp(exclusive bool, news *News) error {
	t := taken{news: news, count: map[NoteKind]int{}, more: map[NoteKind]int64{}}
	r.settleFolder(exclusive)
	var info fs.FileInfo
	if err := file.Again(func() (err error) { info, err = r.h.Stat(); return }); err != nil {
		return &file.Fault{Path: r.path, Doing: "looking at the record", Err: err}
	}
	if info.Size() < r.end {
		t.note(Note{Kind: Shortened, Off: info.Size(), Size: r.end - info.Size(),
			Text: fmt.Sprintf("%s: somebody else cut %d bytes off its end; what this window showed is no longer all in it", r.path, r.end-info.Size())})
		r.end, r.seq, r.spoiled = 0, 0, 0
	}
	if info.Size() > r.end {
		if err := r.scan(info.Size()-r.end, exclusive, &t); err != nil {
			return err
		}
	}
	r.sum(&t)
	if exclusive && r.readonly == nil && !r.settled {
		if err := r.renew(); err != nil {
			r.readonly = &file.Fault{Path: r.path, Doing: "bringing the record to the disk", Err: err}
		}
		r.settled = r.readonly == nil
	}
	return nil
}

// scan reads what is new.
func (r *Record) scan(size int64, exclusive bool, t *taken) error {
	size -= r.resume(size)
	first, seen := r.end == 0, 0
	s := newScanner(r.h, r.end, size)
	s.sums = r.sums
	if r.close { // another window may have closed the tail that was left in place
		if _, err := s.more(); err == nil && len(s.buf) > 0 && s.buf[0] == '\n' {
			s.pos++
		}
	}
	start := r.end
	one := func(e Entry) {
		seen++
		r.take(e, t)
	}
	for {
		s.run(one)
		r.end = s.place()
		f, err := s.next()
		if err != nil {
			return &file.Fault{Path: r.path, Doing: "reading the record", Err: err}
		}
		if f.ok {
			one(f.entry)
		}
		if f.gap != nil {
			r.tellGap(*f.gap, t)
		}
		if !f.end {
			r.end = s.place()
			continue
		}
		if first && seen == 0 && f.size > 0 && !r.couldBegin(f) {
			return &file.Fault{Path: r.path, Doing: "reading the record", Err: ErrNotRecord,
				Left: "it was not touched; move it away or give the job another name"}
		}
		r.end, r.close = f.tail, r.close && f.tail == start
		if f.size > 0 {
			return r.mendTail(f, exclusive, t)
		}
		return nil
	}
}

// sum notes what was only counted.
func (r *Record) sum(t *taken) {
	for kind, n := range t.count { // a map of at most a few; the notes are sorted below
		if n > maxNotes {
			t.news.Notes = append(t.news.Notes, Note{Kind: kind, Count: n - maxNotes, Size: t.more[kind],
				Text: fmt.Sprintf("%s: and %d more such places (%d bytes)", r.path, n-maxNotes, t.more[kind])})
		}
	}
	if t.doubled > 0 {
		t.news.Notes = append(t.news.Notes, Note{Kind: Doubled, Count: t.doubled,
			Text: fmt.Sprintf("%s: %s standing in it twice; each counts once", r.path, entries(t.doubled))})
	}
	if t.newer > 0 {
		t.news.Notes = append(t.news.Notes, Note{Kind: NewerFormat, Count: t.newer,
			Text: fmt.Sprintf("%s: %s written by a later soapstone cannot be read by this one; left as they are", r.path, entries(t.newer))})
	}
	slices.SortStableFunc(t.news.Notes, func(a, b Note) int { return cmp.Compare(a.Kind, b.Kind) })
}

// settleFolder syncs the folder when a file is taken up: its name must be on the disk before
// anything in it counts.
func (r *Record) settleFolder(exclusive bool) {
	if !exclusive || r.readonly != nil || r.settled {
		return
	}
	if err := file.Again(func() error { return r.sys.SyncFolder(file.Folder(r.path)) }); err != nil {
		r.readonly = &file.Fault{Path: r.path, Doing: "bringing the folder to the disk", Err: err}
	}
}

// renewed is how many bytes at the end are written over themselves on opening.
const renewed = 1 << 16

// renew writes the last bytes of the file once more and syncs. After a sync that failed in
// another process the kernel may hold entries that it believes to be on the disk and that are
// not; written anew they get there, or we learn that they cannot.
func (r *Record) renew() error {
	from := max(0, r.end-renewed)
	b := make([]byte, r.end-from)
	n, err := readFull(r.h, b, from)
	if err != nil {
		return err
	}
	if n < len(b) {
		return errors.New("it became shorter while it was read")
	}
	if _, err := file.WriteAll(r.h, b, from); err != nil {
		return err
	}
	return file.Again(r.h.Sync)
}

// readFull fills b from the file, as far as the file goes.
func readFull(h file.Handle, b []byte, off int64) (n int, err error) {
	for n < len(b) {
		m, err := readSome(h, b[n:], off+int64(n))
		n += m
		switch {
		case err == io.EOF:
			return n, nil
		case err != nil:
			return 0, err
		}
	}
	return n, nil
}

// take counts and hands on one entry.
func (r *Record) take(e Entry, t *taken) {
	if e.Seq > r.seq {
		if e.Seq-r.seq-1 > r.spoiled {
			t.note(Note{Kind: Missing, Count: int(min(e.Seq-r.seq-1, 1<<31-1)),
				Text: fmt.Sprintf("%s: the numbers %d to %d are missing", r.path, r.seq+1, e.Seq-1)})
		}
		r.seq = e.Seq
	}
	r.spoiled = 0
	if !r.ids.Add(e.ID) {
		if r.visiting { // whoever goes over to a compacted file knows them all
			t.doubled++
		}
		return
	}
	if e.ID.Writer == r.opt.Writer {
		r.last = max(r.last, e.ID.Number)
	}
	if r.visiting {
		r.fresh++
		if r.visitor != nil {
			r.visitor.add(e)
		}
		return
	}
	e.Payload = bytes.Clone(e.Payload)
	t.news.Entries = append(t.news.Entries, e)
}

// tellGap notes damage between whole entries.
func (r *Record) tellGap(g gap, t *taken) {
	r.spoiled += uint64(g.lines)
	if g.newer {
		t.newer++
		return
	}
	text := fmt.Sprintf("%s: damaged: %d bytes at byte %d cannot be read", r.path, g.size, g.off)
	if g.lines > 0 {
		text += fmt.Sprintf(", about %s", entries(g.lines))
	}
	t.note(Note{Kind: Damaged, Off: g.off, Size: g.size, Count: g.lines,
		Text: text + "; everything whole before and behind them was read, and they were left in place"})
}

// couldBegin tells whether the only content of a file could be the first entry, interrupted
// or damaged: it begins as entries do, or is nothing but blocks that were never written.
func (r *Record) couldBegin(f found) bool {
	b := make([]byte, min(f.size, maxBatch))
	if n, err := readFull(r.h, b, f.tail); err != nil || n < len(b) {
		return false
	}
	head := b[:min(len(b), len(mark))]
	return string(head) == mark[:len(head)] || len(bytes.Trim(b, "\x00")) == 0
}

// mendTail deals with bytes at the end that are no entry.
func (r *Record) mendTail(f found, exclusive bool, t *taken) error {
	if f.size > maxBatch+maxLine {
		// No append leaves so much; it is damage, and too much to be copied.
		r.tellGap(gap{off: f.tail, size: f.size, lines: 1}, t)
		r.end, r.close = f.tail+f.size, true
		return nil
	}
	tail := make([]byte, f.size)
	if _, err := readFull(r.h, tail, f.tail); err != nil {
		return &file.Fault{Path: r.path, Doing: "reading the record", Err: err}
	}
	damaged, torn := split(tail)
	if len(damaged) > 0 {
		r.tellGap(gap{off: f.tail, size: int64(len(damaged)), lines: bytes.Count(damaged, []byte{'\n'})}, t)
		r.end, r.close = r.end+int64(len(damaged)), false
	}
	if len(torn) == 0 {
		return nil
	}
	note := Note{Kind: TornTail, Off: r.end, Size: int64(len(torn))}
	told := fmt.Sprintf("%s: the last write was interrupted (%d bytes at byte %d); it was never confirmed", r.path, len(torn), r.end)
	if !exclusive || r.readonly != nil {
		if r.visiting {
			note.Text = told + " and does not count"
			t.note(note)
		}
		return nil
	}
	aside, err := r.setAside(torn)
	if err == nil {
		err = file.Again(func() error { return r.h.Truncate(r.end) })
	}
	if err == nil {
		err = file.Again(r.h.Sync)
	}
	note.Aside = aside
	switch {
	case err == nil:
		note.Text = fmt.Sprintf("%s and was set aside in %s", told, aside)
	case aside == "":
		note.Text = fmt.Sprintf("%s and was left where it is, because it could not be set aside: %s", told, file.Plain(err))
		r.end, r.close = f.tail+f.size, true
	default:
		note.Text = fmt.Sprintf("%s; a copy is in %s, but it could not be cut off: %s", told, aside, file.Plain(err))
		r.readonly = &file.Fault{Path: r.path, Doing: "cutting off an interrupted write", Err: err}
	}
	t.note(note)
	return nil
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

// setAside brings bytes that are to be cut off into a side file of their own, durably, and returns its name. The side file
// is for the eyes that may see the record. Where the last side file holds these very bytes, because the one who set them
// aside did not live to cut them off or could not, they are not copied once more.
func (r *Record) setAside(b []byte) (string, error) {
	var info fs.FileInfo
	if err := file.Again(func() (err error) { info, err = r.h.Stat(); return }); err != nil {
		return "", err
	}
	perm := info.Mode().Perm()
	last := ""
	for i := 1; i < 10000; i++ {
		name := fmt.Sprintf("%s.aside-%d", r.path, i)
		err := file.Again(func() (err error) { _, err = r.sys.Lstat(name); return })
		if err == nil {
			last = name
			continue
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
		if last != "" && r.holds(last, b) {
			return last, nil
		}
		var h file.Handle
		err = file.Again(func() (err error) {
			h, err = r.sys.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, perm)
			return
		})
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = file.WriteAll(h, b, 0)
		if err == nil {
			err = file.Again(h.Sync)
		}
		if cerr := h.Close(); err == nil {
			err = cerr
		}
		if err == nil {
			err = file.Again(func() error { return r.sys.SyncFolder(file.Folder(r.path)) })
		}
		if err != nil {
			_ = r.sys.Remove(name)
			return "", err
		}
		return name, nil
	}
	return "", fmt.Errorf("%s.aside-1 to -9999 are all there already", r.path)
}

// holds tells whether a side file has these bytes and no others, on the disk.
func (r *Record) holds(name string, b []byte) bool {
	if info, err := r.sys.Lstat(name); err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(b)) {
		return false
	}
	h, err := r.sys.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return false
	}
	defer h.Close()
	have := make([]byte, len(b))
	n, err := readFull(h, have, 0)
	// What another process wrote may never have reached the disk: written once more, it does or fails.
	if err != nil || n < len(b) || !bytes.Equal(have, b) {
		return false
	}
	if _, err := file.WriteAll(h, b, 0); err != nil || file.Again(h.Sync) != nil {
		return false
	}
	return file.Again(func() error { return r.sys.SyncFolder(file.Folder(r.path)) }) == nil
}
