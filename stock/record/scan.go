package record

import (
	"bytes"
	"errors"
	"io"
	"syscall"
)

// gap is a run of bytes in the file that holds no whole entry.
type gap struct {
	off, size int64
	lines     int  // lines that it spoils, one at least
	newer     bool // one whole line of a later version of the format
}

// found is what the scanner met next: an entry, a gap that lies behind it, or the end.
type found struct {
	entry Entry // its payload is good until the next call
	ok    bool  // entry is set
	gap   *gap  // damage between whole entries

	end  bool  // the file ends here;
	tail int64 // where the bytes begin that follow the last whole entry,
	size int64 // and how many they are
}

// scanner reads entries from a file in order and keeps its place in bytes. Memory is bounded
// by one chunk, however long the file is; damage of any length is stepped over in chunks.
type scanner struct {
	src io.ReaderAt
	off int64 // of buf[0] in the file
	buf []byte
	pos int  // in buf
	eof bool // buf reaches the end of the file

	sums *blockSums // of all that is read; nil: nobody wants them
}

const chunk = 1 << 18 // bytes; holds the longest line with room

// newScanner scans from off on; size is about how much there is, and need not be exact.
func newScanner(src io.ReaderAt, off, size int64) *scanner {
	room := chunk
	if size < chunk/2 {
		room = maxLine + int(size)
		if size < 4096 { // what another window has just written
			room = int(size) + 1
		}
	}
	return &scanner{src: src, off: off, buf: make([]byte, 0, room)}
}

// more shifts what was not used yet to the front and fills up behind it. It reports whether
// there is anything new.
func (s *scanner) more() (bool, error) {
	if s.eof {
		return false, nil
	}
	n := copy(s.buf[:cap(s.buf)], s.buf[s.pos:])
	s.off += int64(s.pos)
	s.pos, s.buf = 0, s.buf[:n]
	if n == cap(s.buf) {
		return false, nil
	}
	m, err := readSome(s.src, s.buf[n:cap(s.buf)], s.off+int64(n))
	s.buf = s.buf[:n+m]
	if s.sums != nil {
		s.sums.add(s.buf[n:])
	}
	if err == io.EOF {
		s.eof, err = true, nil
	}
	return m > 0, err
}

// readSome reads what one call gives, and not nothing before the end of the file, which is io.EOF.
func readSome(src io.ReaderAt, b []byte, off int64) (int, error) {
	for idle := 0; ; idle++ {
		m, err := src.ReadAt(b, off)
		switch m = max(m, 0); {
		case err == io.EOF, err != nil && !(errors.Is(err, syscall.EINTR) && idle < 100):
			return m, err
		case m > 0:
			return m, nil
		}
	}
}

// place is the offset in the file of the next byte.
func (s *scanner) place() int64 { return s.off + int64(s.pos) }

// entry tries to read an entry at the scanner's place, and fetches more bytes where it needs
// them.
func (s *scanner) entry() (e Entry, n int, v verdict, err error) {
	for {
		e, n, v = parseEntry(s.buf[s.pos:])
		// The line feed is looked at too, so it must be there if the file has it.
		if v == bad || v == whole && s.pos+n < len(s.buf) {
			return e, n, v, nil
		}
		got, err := s.more()
		if err != nil {
			return e, n, bad, err
		}
		if !got {
			e, n, v = parseEntry(s.buf[s.pos:])
			return e, n, v, nil
		}
	}
}

// run hands on the entries at the scanner's place, as long as each is whole with its line feed in the buffer: the whole
// of a long record but for what crosses the chunks. next goes on from there.
func (s *scanner) run(take func(Entry)) {
	for {
		e, n, v := parseEntry(s.buf[s.pos:])
		if v != whole || s.pos+n >= len(s.buf) || s.buf[s.pos+n] != '\n' {
			return
		}
		s.pos += n + 1
		take(e)
	}
}

// next returns what stands next in the file.
func (s *scanner) next() (found, error) {
	e, n, v, err := s.entry()
	if err != nil {
		return found{}, err
	}
	if v == whole {
		switch rest := s.buf[s.pos+n:]; {
		case len(rest) == 0: // the line feed did not make it: not written to its end
			return s.atEnd(s.place()), nil
		case rest[0] == '\n':
			s.pos += n + 1
			return found{entry: e, ok: true}, nil
		default: // only the line feed is damaged; the entry is whole
			g := &gap{off: s.place() + int64(n), size: 1, lines: 0}
			s.pos += n
			if rest[0] != mark[0] {
				s.pos++
			} else {
				g = nil
			}
			return found{entry: e, ok: true, gap: g}, nil
		}
	}
	if v == short && s.pos == len(s.buf) {
		return s.atEnd(s.place()), nil
	}
	return s.skip()
}

// skip steps over what is no entry, up to the next line that is one, or to the end.
func (s *scanner) skip() (found, error) {
	if line, err := s.newerLine(); err != nil || line > 0 {
		g := &gap{off: s.place(), size: int64(line), lines: 1, newer: true}
		s.pos += line
		return found{gap: g}, err
	}
	g := &gap{off: s.place()}
	for {
		i := bytes.IndexByte(s.buf[s.pos:], '\n')
		if i < 0 {
			s.pos = len(s.buf)
			got, err := s.more()
			if err != nil {
				return found{}, err
			}
			if !got {
				return s.atEnd(g.off), nil
			}
			continue
		}
		s.pos += i + 1
		g.lines++
		_, n, v, err := s.entry()
		if err != nil {
			return found{}, err
		}
		newer, err := s.newerLine()
		if err != nil {
			return found{}, err
		}
		if v == whole && s.pos+n < len(s.buf) || newer > 0 {
			g.size = s.place() - g.off
			return found{gap: g}, nil
		}
	}
}

// atEnd says that the file ends here and that nothing behind off is whole.
func (s *scanner) atEnd(off int64) found {
	s.pos = len(s.buf)
	return found{end: true, tail: off, size: s.place() - off}
}

// newerLine returns the length of the line at the scanner's place, its line feed included, if
// it is an entry of a later version of the format: "=", a number greater than 1, a blank, and
// no zero byte. Else 0.
func (s *scanner) newerLine() (int, error) {
	for {
		b := s.buf[s.pos:]
		end := bytes.IndexByte(b, '\n')
		if len(b) > 0 && b[0] != '=' || len(b) > maxLine && end < 0 {
			return 0, nil
		}
		if end >= 0 {
			b = b[:end]
			v, _, verdict := decimal(b[min(1, len(b)):], 0)
			if verdict == whole && v > 1 && v < 1000 && bytes.IndexByte(b, 0) < 0 {
				return end + 1, nil
			}
			return 0, nil
		}
		got, err := s.more()
		if err != nil || !got {
			return 0, err
		}
	}
}

// split parts a tail into damage that stays in place, which ends with a line feed and holds no
// zero byte, and what an interrupted write left behind.
func split(tail []byte) (damaged, torn []byte) {
	stop := len(tail)
	if zero := bytes.IndexByte(tail, 0); zero >= 0 {
		stop = zero
	}
	n := bytes.LastIndexByte(tail[:stop], '\n') + 1
	return tail[:n], tail[n:]
}
