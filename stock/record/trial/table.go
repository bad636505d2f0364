package trial

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"syscall"

	"bench.example/soapstone/stock/file/trouble"
)

// Fault is one way in which a call goes wrong.
type Fault struct {
	Name  string
	Kinds func(trouble.Kind) bool // the calls that can go wrong so; nil: all
	Stays bool                    // from this call on, every call that changes the disk
	Next  bool                    // the call behind it too
	Seeds int                     // runs with different luck; 0 means 1
	make  func(c trouble.Call) trouble.Fault
}

func errno(name string, e syscall.Errno) Fault {
	return Fault{Name: name, make: func(trouble.Call) trouble.Fault { return trouble.Fault{Err: e} }}
}

func only(f Fault, kinds ...trouble.Kind) Fault {
	f.Kinds = func(k trouble.Kind) bool { return slices.Contains(kinds, k) }
	return f
}

func stays(f Fault) Fault {
	f.Stays, f.Kinds = true, trouble.Kind.Changes
	f.Name += " stays"
	return f
}

// Faults are all of them: the columns of the table.
func Faults() []Fault {
	half := func(c trouble.Call) int { return c.Size / 2 }
	die := func(after bool, part bool) func(trouble.Call) trouble.Fault {
		return func(c trouble.Call) trouble.Fault {
			f := trouble.Fault{Die: true, After: after}
			if part {
				f.Bytes = half(c)
			}
			return f
		}
	}
	full, broken, fixed := errno("ENOSPC", syscall.ENOSPC), errno("EIO", syscall.EIO), errno("EROFS", syscall.EROFS)
	return []Fault{
		full, broken, fixed, errno("EACCES", syscall.EACCES), errno("EINTR", syscall.EINTR),
		only(Fault{Name: "short", make: func(c trouble.Call) trouble.Fault { return trouble.Fault{Short: true, Bytes: half(c)} }}, trouble.Write, trouble.Read),
		only(Fault{Name: "short+ENOSPC", make: func(c trouble.Call) trouble.Fault { return trouble.Fault{Err: syscall.ENOSPC, Bytes: half(c)} }}, trouble.Write),
		only(Fault{Name: "short+EIO", make: func(c trouble.Call) trouble.Fault { return trouble.Fault{Err: syscall.EIO, Bytes: half(c)} }}, trouble.Write),
		only(Fault{Name: "done+EIO", make: func(trouble.Call) trouble.Fault { return trouble.Fault{Err: syscall.EIO, After: true} }},
			trouble.Write, trouble.Sync, trouble.Rename, trouble.SyncFolder, trouble.Truncate),
		// A sync that fails and a taking back that fails too: the entry stays in the kernel's memory.
		only(Fault{Name: "EIO twice", Next: true, make: broken.make}, trouble.Write, trouble.Sync),
		stays(full), stays(broken), stays(fixed),
		{Name: "kill before", make: die(false, false)},
		{Name: "kill after", make: die(true, false)},
		only(Fault{Name: "kill within", make: die(false, true)}, trouble.Write),
		{Name: "power before", make: die(false, false), Seeds: 3},
		{Name: "power after", make: die(true, false), Seeds: 3},
		only(Fault{Name: "power within", make: die(false, true), Seeds: 3}, trouble.Write),
	}
}

// Cell counts the runs with one fault at one kind of call.
type Cell struct{ Injected, Survived int }

// Table is what came of the trial.
type Table struct {
	Entries   int // of the day
	Calls     int // of the day, without a fault
	Faults    []string
	Kinds     []trouble.Kind
	Cells     map[trouble.Kind]map[string]Cell
	Injected  int
	Survived  int
	Lost      int      // runs in which a confirmed entry was lost
	Confirmed int      // entries confirmed over all runs
	Failures  []string // what must not be, each with its call and fault; the first hundred
}

// Run lives through the day once without a fault and then once for each call and fault.
// every > 1 takes only every so many calls, for a quick look.
func Run(entries, every int) Table {
	t := Table{Entries: entries, Cells: map[trouble.Kind]map[string]Cell{}}
	var trace []trouble.Call
	plain := newDay(trouble.New(folder, cache))
	plain.disk.Plan = func(c trouble.Call) trouble.Fault { trace = append(trace, c); return trouble.Fault{} }
	plain.run(entries)
	plain.disk.Plan = nil
	plain.check("without a fault")
	if !plain.tail {
		plain.fail("nobody was told of what the evening left behind")
	}
	if len(plain.told) > 0 {
		plain.fail("without a fault something was told: %q", plain.told)
	}
	t.Calls, t.Failures = len(trace), plain.wrong
	faults := Faults()
	for _, f := range faults {
		t.Faults = append(t.Faults, f.Name)
	}
	for i, c := range trace {
		if i%max(every, 1) != 0 {
			continue
		}
		if t.Cells[c.Kind] == nil {
			t.Cells[c.Kind] = map[string]Cell{}
			t.Kinds = append(t.Kinds, c.Kind)
		}
		for _, f := range faults {
			if f.Kinds != nil && !f.Kinds(c.Kind) {
				continue
			}
			for luck := range max(f.Seeds, 1) {
				t.one(c, f, luck)
			}
		}
	}
	slices.Sort(t.Kinds)
	return t
}

// one lives through the day with one fault.
func (t *Table) one(c trouble.Call, f Fault, luck int) {
	d := newDay(trouble.New(folder, cache))
	hit := false
	d.disk.Plan = func(now trouble.Call) trouble.Fault {
		if now.N == c.N || f.Next && now.N == c.N+1 || f.Stays && now.N > c.N && now.Kind.Changes() {
			hit = true
			return f.make(now)
		}
		return trouble.Fault{}
	}
	d.run(t.Entries)
	d.disk.Plan = nil
	if strings.HasPrefix(f.Name, "power") {
		d.disk.PowerCut(seed(c.N, luck))
	} else {
		d.disk.Restart()
	}
	d.check("after the restart")
	d.disk.PowerCut(seed(c.N, 100+luck))
	d.check("after the power cut")
	if !hit {
		d.fail("the fault was not injected")
	}
	if len(d.told) == 0 && loud(f, c) {
		d.fail("nobody was told of it")
	}
	cell := t.Cells[c.Kind][f.Name]
	cell.Injected++
	t.Injected++
	t.Confirmed += len(d.confirmed)
	if len(d.wrong) == 0 {
		cell.Survived++
		t.Survived++
	}
	t.Cells[c.Kind][f.Name] = cell
	if slices.ContainsFunc(d.wrong, func(s string) bool { return strings.Contains(s, "is lost") }) {
		t.Lost++
	}
	for _, w := range d.wrong {
		if len(t.Failures) < 100 {
			t.Failures = append(t.Failures, fmt.Sprintf("call %d (%s %s), %s, luck %d: %s", c.N, c.Kind, c.Name, f.Name, luck, w))
		}
	}
}

// loud tells whether a fault has to be heard of. Interruptions and short writes are got over;
// a kill or a power cut is seen by everybody; what only tidies up may fail in silence.
func loud(f Fault, c trouble.Call) bool {
	if strings.HasPrefix(c.Name, cache) {
		return false // that no checkpoint can be written costs the next start time, and nothing else
	}
	if c.Kind == trouble.Rename && f.Name == "done+EIO" {
		return false // the file bears its new name, and the sync of the folder proves it
	}
	switch c.Kind {
	case trouble.Write, trouble.Sync, trouble.Rename, trouble.SyncFolder:
		return f.Name != "EINTR" && f.Name != "short" && !strings.HasPrefix(f.Name, "kill") && !strings.HasPrefix(f.Name, "power")
	}
	return false
}

// Print writes the table: a line for each kind of call, a column for each fault, in each cell
// survived/injected.
func (t Table) Print(w io.Writer) {
	fmt.Fprintf(w, "a day of %d entries at two windows, %d calls; survived/injected\n\n", t.Entries, t.Calls)
	fmt.Fprintf(w, "%-14s", "fault")
	for _, k := range t.Kinds {
		fmt.Fprintf(w, " %11s", k)
	}
	fmt.Fprintln(w)
	for _, f := range t.Faults {
		fmt.Fprintf(w, "%-14s", f)
		for _, k := range t.Kinds {
			c := t.Cells[k][f]
			text := "-"
			if c.Injected > 0 {
				text = fmt.Sprintf("%d/%d", c.Survived, c.Injected)
			}
			fmt.Fprintf(w, " %11s", text)
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintf(w, "\n%d of %d faults survived; %d entries were confirmed over all runs; %d runs lost one\n", t.Survived, t.Injected, t.Confirmed, t.Lost)
}
