package record

import (
	"hash/crc32"
	"strconv"

	"bench.example/soapstone/fab/work"
)

// MaxPayload is the most bytes that the payload of one entry may have.
const MaxPayload = 1 << 16

// ID names an entry for good: which writer, and which of the writer's entries.
type ID = work.ID

// Entry is one entry as it stands in the record.
type Entry struct {
	Seq     uint64
	At      int64 // nanoseconds since 1970-01-01 UTC
	ID      ID
	Payload []byte
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

const (
	mark = "=1 "
	// maxHead bounds the bytes before the payload: "=1 ", two numbers of 20 digits, a time of
	// 20 with its sign, a writer of 16, a length of 5, a check of 8, and their blanks.
	maxHead = 3 + 21 + 21 + 17 + 21 + 6 + 9
	maxLine = maxHead + MaxPayload + 1
)

// appendEntry appends the line of e to b.
func appendEntry(b []byte, e Entry) []byte {
	from := len(b)
	b = append(b, mark...)
	b = append(strconv.AppendUint(b, e.Seq, 10), ' ')
	b = append(strconv.AppendInt(b, e.At, 10), ' ')
	b = append(appendHex(b, e.ID.Writer, 16), ' ')
	b = append(strconv.AppendUint(b, e.ID.Number, 10), ' ')
	b = strconv.AppendInt(b, int64(len(e.Payload)), 10)
	check := crc32.Update(0, castagnoli, b[from:])
	check = crc32.Update(check, castagnoli, blank)
	check = crc32.Update(check, castagnoli, e.Payload)
	b = append(b, ' ')
	b = append(appendHex(b, uint64(check), 8), ' ')
	b = append(b, e.Payload...)
	return append(b, '\n')
}

var blank = []byte{' '}

const hexDigits = "0123456789abcdef"

func appendHex(b []byte, v uint64, digits int) []byte {
	for i := digits - 1; i >= 0; i-- {
		b = append(b, hexDigits[v>>(4*i)&15])
	}
	return b
}

type verdict int

const (
	whole verdict = iota // an entry, checked
	short                // what is there could be the beginning of an entry
	bad                  // no entry
)

// parseEntry reads the entry that begins at b[0]. n is the length of its line up to the end
// of the payload, without the line feed, which the caller looks at: an entry whose line feed
// is damaged is still whole. The payload aliases b.
func parseEntry(b []byte) (e Entry, n int, v verdict) {
	for i := range len(mark) {
		if i >= len(b) {
			return e, 0, short
		}
		if b[i] != mark[i] {
			return e, 0, bad
		}
	}
	i := len(mark)
	var u uint64
	if e.Seq, i, v = decimal(b, i); v != whole {
		return e, 0, v
	}
	minus := i < len(b) && b[i] == '-'
	if minus {
		i++
	}
	if u, i, v = decimal(b, i); v != whole {
		return e, 0, v
	}
	switch {
	case minus && u > 0 && u <= 1<<63:
		e.At = -int64(u-1) - 1
	case !minus && u < 1<<63:
		e.At = int64(u)
	default:
		return e, 0, bad
	}
	if e.ID.Writer, i, v = hex(b, i, 16); v != whole {
		return e, 0, v
	}
	if e.ID.Number, i, v = decimal(b, i); v != whole {
		return e, 0, v
	}
	if u, i, v = decimal(b, i); v != whole {
		return e, 0, v
	}
	if u < 1 || u > MaxPayload {
		return e, 0, bad
	}
	head := i - 1 // without the blank before the check
	var check uint64
	if check, i, v = hex(b, i, 8); v != whole {
		return e, 0, v
	}
	if len(b)-i < int(u) {
		return e, 0, short
	}
	e.Payload = b[i : i+int(u) : i+int(u)]
	sum := crc32.Update(0, castagnoli, b[:head])
	if crc32.Update(sum, castagnoli, b[i-1:i+int(u)]) != uint32(check) {
		return e, 0, bad
	}
	return e, i + int(u), whole
}

// decimal reads a number without leading zeros and the blank behind it.
func decimal(b []byte, i int) (v uint64, next int, _ verdict) {
	from := i
	for ; i < len(b); i++ {
		d := b[i] - '0'
		if d > 9 {
			break
		}
		if i-from >= 20 || v > (1<<64-1)/10 || v*10 > 1<<64-1-uint64(d) || i > from && v == 0 {
			return 0, i, bad
		}
		v = v*10 + uint64(d)
	}
	if i == len(b) {
		return 0, i, short
	}
	if i == from || b[i] != ' ' {
		return 0, i, bad
	}
	return v, i + 1, whole
}

// hex reads exactly so many lower case hexadecimal digits and the blank behind them.
func hex(b []byte, i, digits int) (v uint64, next int, _ verdict) {
	for range digits {
		if i == len(b) {
			return 0, i, short
		}
		c := b[i]
		switch {
		case c >= '0' && c <= '9':
			v = v<<4 | uint64(c-'0')
		case c >= 'a' && c <= 'f':
			v = v<<4 | uint64(c-'a'+10)
		default:
			return 0, i, bad
		}
		i++
	}
	if i == len(b) {
		return 0, i, short
	}
	if b[i] != ' ' {
		return 0, i, bad
	}
	return v, i + 1, whole
}
