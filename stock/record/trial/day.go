// Package trial runs a working day at two windows against a disk on which every call fails in
// turn, and counts what was injected and what was survived. A fault is survived when, after it
// and after the next start,
//
//   - every entry that was confirmed stands in the record, once, in its order,
//   - nothing stands there that nobody wrote,
//   - whoever was not confirmed was told why, in words,
//   - the job file is whole: the last text that was confirmed, or one tried later,
//   - the record takes entries again and gives them back,
//
// and all of this once more after a power cut.
package trial

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"

	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/file/trouble"
	"bench.example/soapstone/stock/record"
)

const (
	folder  = "/boathouse"
	jobPath = folder + "/kayak-rack.toml"
	recPath = folder + "/kayak-rack.record"
)

// day is one run of the working day.
type day struct {
	disk      *trouble.Disk
	confirmed []record.ID
	tried     map[record.ID]string // payload
	jobs      []string             // texts of the job file that may stand there: the last confirmed, and all tried since
	jobSure   bool                 // one of jobs was confirmed
	told      []string             // errors and notes
	wrong     []string             // what must not be
	n         int
}

func newDay(disk *trouble.Disk) *day { return &day{disk: disk, tried: map[record.ID]string{}} }

func (d *day) fail(format string, args ...any) {
	d.wrong = append(d.wrong, fmt.Sprintf(format, args...))
}

// tell takes an error that a window would show. It has to name the file and be in words.
func (d *day) tell(err error) {
	s := err.Error()
	d.told = append(d.told, s)
	if errors.Is(err, trouble.ErrDead) {
		return
	}
	if !strings.Contains(s, folder) && !errors.Is(err, record.ErrClosed) {
		d.fail("an error does not say where: %s", s)
	}
}

func (d *day) notes(list []record.Note) {
	for _, n := range list {
		d.told = append(d.told, n.Text)
		if n.Text == "" || !strings.Contains(n.Text, folder) {
			d.fail("a note does not say where: %q", n.Text)
		}
	}
}

// window is one soapstone at the job.
type window struct {
	*day
	r    *record.Record
	seen map[record.ID]int
	list []record.ID
}

func (d *day) open(writer uint64) *window {
	w := &window{day: d, seen: map[record.ID]int{}}
	for range 3 { // a worker tries again
		w.list, w.seen = nil, map[record.ID]int{}
		r, notes, err := record.Open(d.disk, recPath, record.Options{Writer: writer, Patience: 1, Visit: func(e record.Entry) { w.take(e) }})
		d.notes(notes)
		if err != nil {
			d.tell(err)
			continue
		}
		w.r = r
		if r.Writable() == nil {
			break
		}
		d.tell(r.Writable())
		r.Close()
	}
	return w
}

func (w *window) take(e record.Entry) {
	if w.seen[e.ID]++; w.seen[e.ID] > 1 {
		w.fail("a window was given %v twice", e.ID)
	}
	if p, ok := w.tried[e.ID]; !ok || p != string(e.Payload) {
		w.fail("nobody wrote %v %q", e.ID, e.Payload)
	}
	w.list = append(w.list, e.ID)
}

func (w *window) news(n record.News) {
	w.notes(n.Notes)
	for _, e := range n.Entries {
		w.take(e)
	}
}

// work appends drafts, tries again as a worker would, and notes what was confirmed.
func (w *window) work(many int) {
	if w.r == nil {
		w.n += many // the day goes by
		return
	}
	var drafts []record.Draft
	for range many {
		w.n++
		d := record.Draft{ID: w.r.Next(), At: int64(w.n), Payload: fmt.Appendf(nil, `{"v":1,"do":"cut","mark":"A","unit":%d,"stick":"rail %d"}`, w.n, w.n/8)}
		w.tried[d.ID] = string(d.Payload)
		drafts = append(drafts, d)
	}
	for range 4 {
		news, err := w.r.Append(drafts...)
		w.news(news)
		if err == nil {
			for _, d := range drafts {
				w.confirmed = append(w.confirmed, d.ID)
				if w.seen[d.ID] != 1 {
					w.fail("%v was confirmed and given to its window %d times", d.ID, w.seen[d.ID])
				}
			}
			return
		}
		w.tell(err)
		if w.r.Writable() != nil {
			news, err := w.r.Reopen()
			w.news(news)
			if err != nil {
				w.tell(err)
			}
		}
	}
}

func (w *window) poll() {
	if w.r == nil {
		return
	}
	news, err := w.r.Poll()
	w.news(news)
	if err != nil {
		w.tell(err)
	}
}

// save writes the job file.
func (d *day) save(text string) {
	d.jobs = append(d.jobs, text)
	for range 3 {
		err := file.Write(d.disk, jobPath, []byte(text), file.Options{})
		if err == nil {
			d.jobs, d.jobSure = []string{text}, true
			return
		}
		d.tell(err)
	}
}

// run is the day: a job is written, two windows work, the job is edited, the record compacted.
func (d *day) run(entries int) {
	d.save("title = \"Kayak rack\"\n")
	saw, weld := d.open(0xA), d.open(0xB)
	for i := 1; d.n < entries; i++ {
		saw.work(1 + i%3/2)
		switch {
		case i%5 == 0:
			weld.work(1)
			saw.poll()
		case i%4 == 0:
			weld.poll()
		}
		if i%7 == 0 {
			d.save(fmt.Sprintf("title = \"Kayak rack\"\n# edit %d\n%s", i, strings.Repeat("# crowned slipway\n", i%5)))
		}
		if d.n > entries/2 && d.n <= entries/2+2 && saw.r != nil {
			news, err := saw.r.Compact(func(record.Entry) bool { return true })
			saw.news(news)
			if err != nil {
				d.tell(err)
			}
		}
	}
	for _, w := range []*window{saw, weld} {
		if w.r != nil {
			w.r.Close()
		}
	}
}

// check is the next start.
func (d *day) check(when string) {
	before := len(d.wrong)
	w := d.open(0)
	if w.r == nil {
		d.fail("the record does not open")
	} else {
		defer w.r.Close()
		d.order(w.list)
		w.work(1) // damage, repair, then write again
		d.order(w.list)
		if n := len(d.confirmed); n == 0 || w.seen[d.confirmed[n-1]] != 1 || d.confirmed[n-1].Writer < 0x10 {
			d.fail("the record takes nothing after the restart")
		}
	}
	text, there := d.disk.Text(jobPath)
	ok := !there && !d.jobSure
	for _, j := range d.jobs {
		ok = ok || there && j == text
	}
	if !ok {
		d.fail("the job file is %q, there %v; good would be one of %q", text, there, d.jobs)
	}
	for i := before; i < len(d.wrong); i++ {
		d.wrong[i] = when + ": " + d.wrong[i]
	}
}

// order looks for every confirmed entry, in the order of confirmation, each once.
func (d *day) order(list []record.ID) {
	at := map[record.ID]int{}
	for i, id := range list {
		at[id] = i
	}
	last := -1
	for _, id := range d.confirmed {
		i, ok := at[id]
		switch {
		case !ok:
			d.fail("%v was confirmed and is lost", id)
		case i < last:
			d.fail("%v has changed its place", id)
		default:
			last = i
		}
	}
}

func seed(a, b int) *rand.Rand { return rand.New(rand.NewPCG(uint64(a), uint64(b))) }
