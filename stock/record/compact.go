package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
)

// Compact copies the entries for which keep is true into a new file and puts it in the place
// of the record, as the package comment lays out. Bytes that cannot be read are brought into
// a side file first. On an error the record is as it was, unless the error says otherwise.
func (r *Record) Compact(keep func(Entry) bool) (News, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	var news News
	if r.readonly != nil {
		return news, r.readonly
	}
	var next file.Handle
	var seq uint64
	var end int64
	err := r.hold(true, &news, func() (err error) {
		if r.readonly != nil {
			return r.readonly
		}
		next, seq, end, err = r.copyOver(keep)
		return err
	})
	if next == nil {
		return news, err
	}
	// The old file was unlocked by hold; the new one is locked and in place.
	_ = file.Again(next.Unlock)
	r.h.Close()
	r.h, r.seq, r.spoiled, r.end, r.close, r.settled = next, seq, 0, end, false, true
	return news, err
}

// copyOver writes the new file and renames it. It returns the new file, locked, once it bears
// the record's name, also with an error.
func (r *Record) copyOver(keep func(Entry) bool) (next file.Handle, seq uint64, end int64, err error) {
	name := r.path + ".compact"
	fault := func(doing string, err error) error {
		return &file.Fault{Path: r.path, Doing: doing, Left: "the record is as it was", Err: err}
	}
	var info fs.FileInfo
	if err := file.Again(func() (err error) { info, err = r.h.Stat(); return }); err != nil {
		return nil, 0, 0, fault("compacting", err)
	}
	// A leftover of a process that died while compacting. Whoever is here holds the record's
	// lock, so nobody is using it.
	if err := file.Again(func() error { return r.sys.Remove(name) }); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, 0, 0, fault("clearing away "+name, err)
	}
	var h file.Handle
	if err := file.Again(func() (err error) {
		h, err = r.sys.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, info.Mode().Perm())
		return
	}); err != nil {
		return nil, 0, 0, fault("making "+name, err)
	}
	drop := func(doing string, err error) (file.Handle, uint64, int64, error) {
		h.Close()
		_ = file.Again(func() error { return r.sys.Remove(name) })
		return nil, 0, 0, fault(doing, err)
	}
	// Locked before it has the name, so that nobody writes to it before this process knows.
	if err := file.Again(func() error { return h.Lock(true) }); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return drop("locking the new file", err)
	}
	if err := file.Again(func() error { return h.Chmod(info.Mode().Perm()) }); err != nil {
		return drop("keeping the permissions", err)
	}
	if seq, end, err = r.copyEntries(h, keep); err != nil {
		return drop("copying the entries", err)
	}
	if err := file.Again(h.Sync); err != nil {
		return drop("bringing the new file to the disk", err)
	}
	if err := file.Supplant(r.sys, name, r.path, h); err != nil {
		return drop("putting the new file in the place of the record", err)
	}
	if err := file.Again(func() error { return r.sys.SyncFolder(file.Folder(r.path)) }); err != nil {
		err = &file.Fault{Path: r.path, Doing: "bringing the folder to the disk", Err: err,
			Left: "the compacted record is in place and holds every entry that was to be kept; it takes no more until it is opened again"}
		r.readonly = fmt.Errorf("%w: %w", ErrClosed, err)
		return h, seq, end, r.readonly
	}
	return h, seq, end, nil
}

// copyEntries copies the kept entries, each once, and brings what cannot be read into a side
// file. Lines of a later format are copied as they are.
func (r *Record) copyEntries(h file.Handle, keep func(Entry) bool) (seq uint64, end int64, err error) {
	var out, spoilt []byte
	flush := func() error {
		n, err := file.WriteAll(h, out, end)
		end, out = end+int64(n), out[:0]
		return err
	}
	var seen work.IDs
	s := newScanner(r.h, 0, chunk)
	for {
		f, err := s.next()
		if err != nil {
			return 0, 0, err
		}
		if f.ok && seen.Add(f.entry.ID) && keep(f.entry) {
			seq++
			f.entry.Seq = seq
			out = appendEntry(out, f.entry)
		}
		if g := f.gap; g != nil {
			b := make([]byte, g.size)
			if _, err := readFull(r.h, b, g.off); err != nil {
				return 0, 0, err
			}
			if g.newer {
				out = append(out, b...)
				seq++
			} else {
				spoilt = append(spoilt, b...)
			}
		}
		if f.end && f.size > 0 {
			b := make([]byte, f.size)
			if _, err := readFull(r.h, b, f.tail); err != nil {
				return 0, 0, err
			}
			spoilt = append(spoilt, b...)
		}
		if len(out) >= chunk || f.end {
			if err := flush(); err != nil {
				return 0, 0, err
			}
		}
		if f.end {
			break
		}
	}
	if len(spoilt) > 0 {
		if _, err := r.setAside(spoilt); err != nil {
			return 0, 0, err
		}
	}
	return seq, end, nil
}
