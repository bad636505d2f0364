package record

import (
	"bytes"
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
)

var (
	// ErrClosed says that a sync failed, so that the record takes no more entries until it
	// is opened again; or that it was closed.
	ErrClosed = errors.New("the record is closed for writing")
	// ErrGone says that the record was removed or moved away while it was open.
	ErrGone = errors.New("the record is no longer where it was: it was removed or moved while it was open")
	// ErrNotRecord says that a file holds something else than a record.
	ErrNotRecord = errors.New("this file is not a record of work")
	// ErrPayload says that a payload cannot be an entry.
	ErrPayload = errors.New("this cannot be an entry")
)

// maxBatch is the most bytes that one append writes, so that what an interrupted append leaves
// behind can be set aside in one piece.
const maxBatch = 1 << 20

// Options of Open. The zero value is good for everything but tests.
type Options struct {
	// Visit is called for each entry that the record holds when it is opened, in order, from
	// one other goroutine, and not any more when Open has returned. The payload is good
	// during the call only. Nil: the entries are skipped.
	Visit func(Entry)
	// Checkpoint, where it is set, shortens the next starts; see there.
	Checkpoint *Checkpoint
	// ReadOnly opens without writing, mending or creating anything.
	ReadOnly bool
	// Writer is the identity under which entries are written; 0 draws one.
	Writer uint64
	// Patience is how long to wait for a lock that another process holds; 0 means 10 s.
	Patience time.Duration
}

// News is what has come to light: entries in the order of the file, each exactly once in the
// life of a Record, and what is to be told.
type News struct {
	Entries []Entry
	Notes   []Note
}

// Draft is an entry to be.
type Draft struct {
	ID      ID    // from Next; zero: one is given. To try again, use the same ID
	At      int64 // nanoseconds since 1970-01-01 UTC
	Payload []byte
}

// Record is an open record. Its methods may be called from several goroutines.
type Record struct {
	sys      file.System
	path     string
	opt      Options
	mu       sync.Mutex
	h        file.Handle
	end      int64  // behind the last line that was understood or given up
	close    bool   // the byte before end is no line feed, so the next line begins with one
	settled  bool   // folder and file were synced since the file was opened
	seq      uint64 // of the last entry
	spoiled  uint64 // lines behind it that cannot be read
	last     uint64 // the last number given to a draft
	ids      work.IDs
	readonly error // why nothing can be written, or nil
	visiting bool  // Open runs: entries go to Visit
	visitor  *visitor
	sums     *blockSums // of what Open read, where a checkpoint is wanted
	fresh    int        // entries that Open gave to Visit
}

// Beside names the record of a job: the job's real path (links followed, so that two windows
// that came by different names share one record) with .record in the place of .toml.
func Beside(sys file.System, job string) (string, error) {
	real, err := file.Real(sys, job)
	if err != nil {
		return "", err
	}
	if ext := filepath.Ext(real); ext == ".toml" {
		real = real[:len(real)-len(ext)]
	}
	return real + ".record", nil
}

// Open opens the record at path and makes it if there is none. What it holds goes to
// opt.Visit; what is to be told comes back as notes. A record that can be read but not
// written opens all the same: Writable says why it cannot, and Append refuses.
func Open(sys file.System, path string, opt Options) (*Record, []Note, error) {
	path, err := file.Real(sys, path)
	if err != nil {
		return nil, nil, err
	}
	if opt.Patience == 0 {
		opt.Patience = 10 * time.Second
	}
	if opt.Writer == 0 {
		var b [8]byte
		_, _ = rand.Read(b[:]) // never fails
		opt.Writer = binary.LittleEndian.Uint64(b[:]) | 1
	}
	r := &Record{sys: sys, path: path, opt: opt, visiting: true}
	if opt.ReadOnly {
		r.readonly = fmt.Errorf("%w: it was opened for reading", ErrClosed)
	}
	if opt.Visit != nil {
		r.visitor = newVisitor(opt.Visit)
	}
	var news News
	err = r.open(&news)
	if r.visitor != nil {
		r.visitor.wait()
	}
	if err != nil {
		if r.h != nil {
			r.h.Close()
		}
		return nil, news.Notes, err
	}
	r.visiting, r.visitor = false, nil
	r.checkpoint(len(news.Notes) == 0)
	if r.readonly != nil && !opt.ReadOnly {
		news.Notes = append(news.Notes, r.cannotWrite())
	}
	return r, news.Notes, nil
}

func (r *Record) cannotWrite() Note {
	return Note{Kind: CannotWrite, Text: fmt.Sprintf("%s: nothing can be recorded now: %s", r.path, file.Plain(r.readonly))}
}

// open opens the file, takes it up and reads it.
func (r *Record) open(news *News) error {
	if err := r.openFile(os.O_CREATE); err != nil {
		return err
	}
	return r.hold(true, news, func() error { return nil })
}

// openFile opens the file that the path names, in place of the one that was open.
func (r *Record) openFile(create int) error {
	try := func(flag int) error {
		var h file.Handle
		err := file.Again(func() (err error) { h, err = r.sys.OpenFile(r.path, flag, 0o666); return })
		if err == nil {
			if r.h != nil {
				r.h.Close()
			}
			r.h, r.end, r.seq, r.spoiled, r.close, r.settled = h, 0, 0, 0, false, false
		}
		return err
	}
	// A folder, a device or a pipe is refused before opening, which could wait for ever.
	var info fs.FileInfo
	err := file.Again(func() (err error) { info, err = r.sys.Stat(r.path); return })
	if err == nil && !info.Mode().IsRegular() {
		return &file.Fault{Path: r.path, Doing: "opening the record", Err: file.ErrNotOrdinary}
	}
	if r.readonly == nil {
		err := try(os.O_RDWR | create)
		if err == nil {
			return nil
		}
		r.readonly = &file.Fault{Path: r.path, Doing: "opening the record for writing", Err: err}
		if try(os.O_RDONLY) == nil {
			return nil
		}
		return r.readonly
	}
	if err := try(os.O_RDONLY); err != nil {
		return &file.Fault{Path: r.path, Doing: "opening the record", Err: err}
	}
	return nil
}

// hold takes the lock, makes sure that the open file is the one that the path names, reads
// what others have written, and runs do; then it unlocks.
func (r *Record) hold(exclusive bool, news *News, do func() error) (err error) {
	before := r.readonly
	defer func() { // taking up a file may fail without an error: it can be read
		if before == nil && r.readonly != nil && err == nil && !r.visiting {
			news.Notes = append(news.Notes, r.cannotWrite())
		}
	}()
	for tries := 0; ; tries++ {
		// A file that was just taken up has to be settled, which is writing.
		exclusive = (exclusive || !r.settled) && r.readonly == nil
		if err := r.lock(exclusive); err != nil {
			return &file.Fault{Path: r.path, Doing: "waiting for the record's lock", Err: err}
		}
		same, err := file.At(r.sys, r.path, r.h)
		if same {
			break
		}
		// Another process has compacted the record, or it was removed.
		r.unlock()
		if err == nil && tries >= 100 {
			err = ErrGone
		}
		if err == nil && !r.visiting {
			if _, gone := r.sys.Stat(r.path); errors.Is(gone, fs.ErrNotExist) {
				err = ErrGone
			}
		}
		if err != nil {
			return &file.Fault{Path: r.path, Doing: "looking for the record", Err: err}
		}
		create := 0
		if r.visiting {
			create = os.O_CREATE
		}
		if err := r.openFile(create); err != nil {
			return err
		}
	}
	defer r.unlock()
	if err := r.catchUp(exclusive, news); err != nil {
		return err
	}
	return do()
}

func (r *Record) lock(exclusive bool) error {
	wait := 50 * time.Microsecond
	for spent := time.Duration(0); ; spent += wait {
		err := file.Again(func() error { return r.h.Lock(exclusive) })
		switch {
		case err == nil:
			return nil
		case errors.Is(err, errors.ErrUnsupported):
			return nil // one process alone can still keep its record here
		case !errors.Is(err, file.ErrLocked):
			if r.readonly != nil {
				return nil // to read is better than not to read
			}
			return err
		case spent >= r.opt.Patience:
			return err
		}
		time.Sleep(wait)
		wait = min(2*wait, 2*time.Millisecond)
	}
}

func (r *Record) unlock() { _ = file.Again(r.h.Unlock) }

// Path is where the record lies.
func (r *Record) Path() string { return r.path }

// Writable says why nothing can be recorded, or nil.
func (r *Record) Writable() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.readonly
}

// Next gives an ID for a draft, so that an append that failed can be tried again without the
// entry ever standing there twice.
func (r *Record) Next() ID {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.next()
}

func (r *Record) next() ID {
	r.last++
	return ID{Writer: r.opt.Writer, Number: r.last}
}

// Append records the drafts with one write and one sync. When it returns nil they are on the
// disk. The news holds them, behind what others wrote before; a draft whose ID stands in the
// record already is confirmed and not written again. On an error none of the drafts may be
// told as done, but the news is good.
func (r *Record) Append(drafts ...Draft) (News, error) { return r.AppendIf(nil, drafts...) }

// ErrOvertaken says that what others wrote before stood in the way of an AppendIf; nothing of it was written.
var ErrOvertaken = errors.New("another window recorded something before that stands in the way")

// AppendIf is Append under a condition: still looks at what others wrote since the last news, while nobody can write more,
// and says whether the drafts still make sense. nil always does.
func (r *Record) AppendIf(still func(others []Entry) bool, drafts ...Draft) (News, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	var news News
	size := 0
	for _, d := range drafts {
		if err := check(d.Payload); err != nil {
			return news, err
		}
		size += len(d.Payload) + maxHead + 1
	}
	if size > maxBatch {
		return news, fmt.Errorf("%w: %d bytes at once, the limit is %d", ErrPayload, size, maxBatch)
	}
	if r.readonly != nil {
		return news, r.readonly
	}
	err := r.hold(true, &news, func() error {
		if still != nil && !still(news.Entries) {
			return ErrOvertaken
		}
		return r.write(drafts, &news)
	})
	return news, err
}

func check(payload []byte) error {
	switch {
	case len(payload) == 0:
		return fmt.Errorf("%w: it is empty", ErrPayload)
	case len(payload) > MaxPayload:
		return fmt.Errorf("%w: it has %d bytes, the limit is %d", ErrPayload, len(payload), MaxPayload)
	case bytes.IndexByte(payload, '\n') >= 0 || bytes.IndexByte(payload, 0) >= 0:
		return fmt.Errorf("%w: it holds a line feed or a zero byte", ErrPayload)
	}
	return nil
}

// write runs under the exclusive lock, with everything in the file known.
func (r *Record) write(drafts []Draft, news *News) error {
	if r.readonly != nil { // found out while catching up
		return r.readonly
	}
	var lines []byte
	var mine []Entry
	if r.close {
		lines = append(lines, '\n')
	}
	var fresh work.IDs
	seq := r.seq + r.spoiled
	for _, d := range drafts {
		if d.ID == (ID{}) {
			d.ID = r.next()
		}
		if r.ids.Has(d.ID) || !fresh.Add(d.ID) {
			continue
		}
		seq++
		e := Entry{Seq: seq, At: d.At, ID: d.ID, Payload: bytes.Clone(d.Payload)}
		mine = append(mine, e)
		lines = appendEntry(lines, e)
	}
	if len(mine) > 0 {
		if _, err := file.WriteAll(r.h, lines, r.end); err != nil {
			return r.takeBack("writing to the record", err, nil)
		}
	}
	// Also where nothing was written: what another process wrote and did not live to sync
	// must not be confirmed on the strength of the kernel's memory.
	if err := file.Again(r.h.Sync); err != nil {
		return r.takeBack("bringing the record to the disk", err, ErrClosed)
	}
	if len(mine) > 0 {
		r.end += int64(len(lines))
		r.seq, r.spoiled, r.close = seq, 0, false
	}
	for _, e := range mine {
		r.ids.Add(e.ID)
	}
	news.Entries = append(news.Entries, mine...)
	return nil
}

// takeBack cuts off what a failed append may have left, and closes the record for writing
// where it must be.
func (r *Record) takeBack(doing string, err, sentinel error) error {
	left := "this entry was not recorded, all earlier ones are safe; it can be tried again"
	cut := file.Again(func() error { return r.h.Truncate(r.end) })
	if sentinel != nil || cut != nil {
		left = "this entry is not confirmed, all earlier ones are safe; the record takes no more until it is opened again"
		sentinel = ErrClosed
	}
	fault := &file.Fault{Path: r.path, Doing: doing, Left: left, Err: err}
	if sentinel != nil {
		r.readonly = fmt.Errorf("%w: %w", sentinel, fault)
		return r.readonly
	}
	return fault
}

// Poll returns what others have written since the last Open, Append or Poll. When nothing has
// changed it costs one look at the folder.
func (r *Record) Poll() (News, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	var news News
	var info, mine fs.FileInfo
	if err := file.Again(func() (err error) { mine, err = r.h.Stat(); return }); err != nil {
		return news, &file.Fault{Path: r.path, Doing: "looking at the record", Err: err}
	}
	err := file.Again(func() (err error) { info, err = r.sys.Stat(r.path); return })
	if err == nil && r.sys.Same(info, mine) && info.Size() == r.end {
		return news, nil
	}
	// Under the shared lock nobody is in the middle of writing, and whoever wrote has synced
	// or is dead.
	err = r.hold(false, &news, func() error {
		if len(news.Entries) == 0 || r.readonly != nil {
			return nil
		}
		if err := file.Again(r.h.Sync); err != nil {
			return r.takeBack("bringing the record to the disk", err, ErrClosed)
		}
		return nil
	})
	return news, err
}

// Reopen opens the record anew after a failure. Entries that were not known come as news; the
// record takes entries again if Writable says so.
func (r *Record) Reopen() (News, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	var news News
	r.readonly = nil
	if r.opt.ReadOnly {
		r.readonly = fmt.Errorf("%w: it was opened for reading", ErrClosed)
	}
	err := r.open(&news)
	if err != nil {
		r.readonly = fmt.Errorf("%w: %w", ErrClosed, err)
	}
	return news, err
}

// Close closes the record. Everything that was confirmed is on the disk already.
func (r *Record) Close() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.readonly = fmt.Errorf("%w: it was closed", ErrClosed)
	return r.h.Close()
}
