// Package trial runs a working day at two windows against a disk on which every call fails in
// turn, and counts what was injected and what was survived. A fault is survived when, after it
// and after the next start,
//
//   - every entry that was confirmed stands in the record, once, in its order,
//   - nothing stands there that nobody wrote,
//   - whoever was not confirmed was told why, in words,
//   - the job file, the shop's drops and prices and the packet are whole: the last text that was confirmed, or one
//     tried later,
//   - the record takes entries again and gives them back,
//
// and all of this once more after a power cut. The day begins behind an evening on which the power failed in the middle of
// a write: what that left behind must stay, in the record or beside it. The job file is a link.
package trial

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"sync"

	"bench.example/soapstone/fab/book"
	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/steel"
	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/file/trouble"
	"bench.example/soapstone/stock/record"
	"bench.example/soapstone/stock/shop"
	"bench.example/soapstone/stock/table"
)

const (
	folder     = "/boathouse"
	jobPath    = folder + "/kayak-rack.toml"
	linkPath   = folder + "/rack.toml"
	recPath    = folder + "/kayak-rack.record"
	cache      = "/cache"
	checkPath  = cache + "/kayak-rack.checkpoint"
	dropsPath  = folder + "/drops.toml"
	pricesPath = folder + "/prices.toml"
	packetPath = folder + "/packet.pdf"
)

// day is one run of the working day.
type day struct {
	disk      *trouble.Disk
	confirmed []record.ID
	tried     map[record.ID]string // payload
	files     map[string]*whole
	told      []string // errors and notes
	wrong     []string // what must not be
	tail      bool     // what the evening left behind was told
	n         int
}

// evening is how many entries the record holds when the day begins, and torn what stands behind them.
const (
	evening = 5
	torn    = "=1 6 1780000000000000000 000000000000000c 6 57 0badc0de {\"v\":1,\"do\":\"cut\",\"mark\":\"A\","
)

// yesterday gives the evening's record, made on a healthy disk.
var yesterday = sync.OnceValue(func() string {
	disk := trouble.New(folder)
	r, _, err := record.Open(disk, recPath, record.Options{Writer: 0xC})
	if err != nil {
		panic(err)
	}
	for n := range evening {
		if _, err := r.Append(record.Draft{At: int64(n), Payload: cut(-n)}); err != nil {
			panic(err)
		}
	}
	r.Close()
	text, _ := disk.Text(recPath)
	return text + torn
})

// cut is the payload of an entry.
func cut(n int) []byte {
	return fmt.Appendf(nil, `{"v":1,"do":"cut","mark":"A","unit":%d,"stick":"rail %d"}`, n, n/8)
}

// whole is a file that is written as a whole.
type whole struct {
	may  []string // texts that may stand there: the last confirmed, and all tried since
	sure bool     // one of them was confirmed
}

func newDay(disk *trouble.Disk) *day {
	d := &day{disk: disk, tried: map[record.ID]string{}, files: map[string]*whole{}}
	for _, path := range wholes {
		d.files[path] = &whole{}
	}
	disk.Put(recPath, yesterday(), 0o644)
	disk.Link(linkPath, "kayak-rack.toml")
	for n := range evening {
		id := record.ID{Writer: 0xC, Number: uint64(n + 1)}
		d.tried[id] = string(cut(-n))
		d.confirmed = append(d.confirmed, id)
	}
	return d
}

var wholes = []string{jobPath, dropsPath, pricesPath, packetPath}

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
		if n.Kind == record.TornTail && !d.tail && strings.HasSuffix(n.Text, "was set aside in "+n.Aside) {
			d.tail = true // of the evening, not of a fault
		} else {
			d.told = append(d.told, n.Text)
		}
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
		c := &record.Checkpoint{Path: checkPath, Resume: w.resume, Save: w.save, Every: 4}
		r, notes, err := record.Open(d.disk, recPath, record.Options{Writer: writer, Patience: 1, Checkpoint: c, Visit: func(e record.Entry) { w.take(e) }})
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

// save gives what the window was given, for a checkpoint.
func (w *window) save() []byte {
	var b strings.Builder
	for _, id := range w.list {
		fmt.Fprintf(&b, "%s %s\n", id, w.tried[id])
	}
	return []byte(b.String())
}

// resume takes it up.
func (w *window) resume(state []byte) bool {
	for line := range strings.Lines(string(state)) {
		word, payload, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		id, err := work.ParseID(word)
		if err != nil {
			w.fail("a checkpoint holds %q", line)
			return false
		}
		w.take(record.Entry{ID: id, Payload: []byte(payload)})
	}
	return true
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
		d := record.Draft{ID: w.r.Next(), At: int64(w.n), Payload: cut(w.n)}
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

// change changes a file as a whole. What ought to become of it is found out on a healthy disk.
func (d *day) change(path string, do func(file.System) error) {
	w := d.files[path]
	for range 3 { // a worker tries again
		healthy := trouble.New(folder)
		if now, there := d.disk.Text(path); there {
			healthy.Put(path, now, 0o644)
		}
		if err := do(healthy); err != nil {
			d.fail("on a healthy disk: %v", err)
			return
		}
		want, _ := healthy.Text(path)
		w.may = append(w.may, want)
		err := do(d.disk)
		if err == nil {
			if now, _ := d.disk.Text(path); now != want {
				d.fail("%s was confirmed and reads %q, want %q", path, now, want)
			}
			w.may, w.sure = []string{want}, true
			return
		}
		d.tell(err)
	}
}

// save writes the job file or the packet.
func (d *day) save(path, text string) {
	d.change(path, func(sys file.System) error { return file.Write(sys, path, []byte(text), file.Options{}) })
}

// tube is the steel of the shop's lists.
func tube() (steel.Section, error) {
	return steel.New(steel.Spec{Shape: steel.RectTube, Size: "2 x 1 x 14ga", Unit: measure.In}, table.Steel())
}

// drop puts a drop on the shop's list; every third time it takes one off.
func (d *day) drop(n int) {
	d.change(dropsPath, func(sys file.System) error {
		l, problems, err := shop.Load(sys, dropsPath, table.Steel())
		if err == nil && text.HasErrors(problems) {
			err = errors.New(problems[0].String())
		}
		if err != nil {
			return err
		}
		if n%3 == 2 && len(l.Drops) > 0 {
			return l.Take(0, 1)
		}
		s, err := tube()
		if err != nil {
			return err
		}
		return l.Add(shop.Drop{Shape: "rect-tube", Size: "2 x 1 x 14ga", Section: s, Length: measure.Length(20+n) * measure.Inch, Qty: 1})
	})
}

// price writes a price into the shop's book.
func (d *day) price(n int) {
	d.change(pricesPath, func(sys file.System) error {
		p, problems, err := shop.LoadPrices(sys, pricesPath, table.Steel())
		if err == nil && text.HasErrors(problems) {
			err = errors.New(problems[0].String())
		}
		if err != nil {
			return err
		}
		_, err = p.PutGoods(book.Goods{Name: fmt.Sprintf("wire %d", n%2), Kind: "part", Price: measure.Money(n) * measure.Whole, Date: book.Day(20_000 + n)})
		return err
	})
}

// edit writes the job file by the name of its link.
func (d *day) edit(text string) {
	d.change(jobPath, func(sys file.System) error {
		path := linkPath
		if sys != file.System(d.disk) { // where what ought to become of it is found out there is no link
			path = jobPath
		}
		return file.Write(sys, path, []byte(text), file.Options{})
	})
}

// run is the day: a job is written, two windows work, the job is edited, drops and prices are noted, one window is closed
// and opened again, the record is compacted, the packet written.
func (d *day) run(entries int) {
	d.edit("title = \"Kayak rack\"\n")
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
		if i == 4 && saw.r != nil {
			saw.r.Close()
			saw = d.open(0xA)
		}
		if i%7 == 0 {
			d.edit(fmt.Sprintf("title = \"Kayak rack\"\n# edit %d\n%s", i, strings.Repeat("# crowned slipway\n", i%5)))
		}
		if i%6 == 2 {
			d.drop(i / 6)
		}
		if i%8 == 3 {
			d.price(1 + i/8)
		}
		if d.n > entries/2 && d.n <= entries/2+2 && saw.r != nil {
			news, err := saw.r.Compact(func(record.Entry) bool { return true })
			saw.news(news)
			if err != nil {
				d.tell(err)
			}
		}
	}
	d.save(packetPath, "%PDF-1.4\n"+strings.Repeat("a page of the packet\n", 100))
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
		if n := len(d.confirmed); n == evening || w.seen[d.confirmed[n-1]] != 1 || d.confirmed[n-1].Writer < 0x10 {
			d.fail("the record takes nothing after the restart")
		}
	}
	d.keptTail()
	for _, path := range wholes {
		w := d.files[path]
		text, there := d.disk.Text(path)
		ok := !there && !w.sure
		for _, may := range w.may {
			ok = ok || there && may == text
		}
		if !ok {
			d.fail("%s is %q, there %v; good would be one of %q", path, text, there, w.may)
		}
	}
	for i := before; i < len(d.wrong); i++ {
		d.wrong[i] = when + ": " + d.wrong[i]
	}
}

// keptTail looks for what the evening left behind.
func (d *day) keptTail() {
	names, err := d.disk.Names(folder)
	if err != nil {
		d.fail("the folder: %v", err)
	}
	for _, name := range names {
		if text, _ := d.disk.Text(folder + "/" + name); strings.HasPrefix(name, "kayak-rack.record") && strings.Contains(text, torn) {
			return
		}
	}
	d.fail("what the interrupted write left behind is lost; the folder holds %q", names)
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
