package record

import (
	"encoding/binary"
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
	// Eight digits at a time while they cannot overflow; a time has nineteen.
	for i-from < 16 && len(b)-i >= 8 {
		eight, ok := digits8(binary.LittleEndian.Uint64(b[i:]))
		if !ok {
			break
		}
		v = v*100_000_000 + eight
		i += 8
	}
	if i > from && b[from] == '0' {
		return 0, i, bad
	}
	for ; i < len(b); i++ {
		d := b[i] - '0'
		if d > 9 {
			break
		}
		if i-from >= 19 && (i-from >= 20 || v > (1<<64-1)/10 || v*10 > 1<<64-1-uint64(d)) || i > from && v == 0 {
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

// digits8 gives the number that eight decimal digits write, the first in the lowest byte, and whether all eight are
// digits: pairs, then fours, then all of them, each by one multiplication.
func digits8(x uint64) (uint64, bool) {
	if x&0xf0f0f0f0f0f0f0f0|(x+0x0606060606060606)&0xf0f0f0f0f0f0f0f0>>4 != 0x3333333333333333 {
		return 0, false
	}
	x -= 0x3030303030303030
	x = x*10 + x>>8
	return (x&0x000000ff000000ff*(100+1_000_000<<32) + x>>16&0x000000ff000000ff*(1+10_000<<32)) >> 32, true
}

// nibble gives the value of a lower case hexadecimal digit, and 255 for every other byte.
var nibble = func() (t [256]uint8) {
	for i := range t {
		t[i] = 255
	}
	for i := range hexDigits {
		t[hexDigits[i]] = uint8(i)
	}
	return t
}()

// hex reads exactly so many lower case hexadecimal digits and the blank behind them.
func hex(b []byte, i, digits int) (v uint64, next int, _ verdict) {
	for _, c := range b[i:min(i+digits, len(b))] {
		d := nibble[c]
		if d > 15 {
			return 0, i, bad
		}
		v = v<<4 | uint64(d)
	}
	i += digits
	switch {
	case i >= len(b):
		return 0, len(b), short
	case b[i] != ' ':
		return 0, i, bad
	}
	return v, i + 1, whole
}
