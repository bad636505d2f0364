package record

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"hash/crc32"

	"bench.example/soapstone/fab/work"
	"bench.example/soapstone/stock/file"
)

// Checkpoint lets Open skip entries that it has read before: instead of being visited they are taken up as the state that
// was made of them. See the package comment for what keeps a checkpoint from hiding an entry.
type Checkpoint struct {
	// Path is where it lies, in a folder that belongs to the user alone: whoever can write it can make up a state. Its
	// folder has to be there.
	Path string
	// Resume takes up the state that Save gave. It is called at most once, before any entry is visited. Where it says
	// no, all entries are visited.
	Resume func(state []byte) bool
	// Save gives the state that the visited entries made. It is called at most once, before Open returns.
	Save func() []byte
	// Every is how many entries a start may visit before it makes a new checkpoint; 0 means 20 000.
	Every int
}

const (
	checkpointHead  = "soapstone checkpoint 1\n"
	checkpointEvery = 20_000
	maxCheckpoint   = 1 << 28
	blockSize       = 1 << 20
)

// blockSums are the CRC-32C of a file's beginning, one for each block of a megabyte; the last may be shorter.
type blockSums struct {
	size int64
	sums []uint32
}

func (s *blockSums) add(b []byte) {
	for len(b) > 0 {
		at := int(s.size % blockSize)
		if at == 0 {
			s.sums = append(s.sums, 0)
		}
		n := min(len(b), blockSize-at)
		last := &s.sums[len(s.sums)-1]
		*last = crc32.Update(*last, castagnoli, b[:n])
		s.size += int64(n)
		b = b[n:]
	}
}

// resume takes up the checkpoint, if there is one of the beginning of this very file, byte for byte. It returns how many
// bytes need not be scanned.
func (r *Record) resume(size int64) int64 {
	c := r.opt.Checkpoint
	if c == nil || !r.visiting || r.end != 0 || r.fresh > 0 || r.sums != nil {
		r.sums = nil
		return 0
	}
	r.sums = &blockSums{}
	b, _, err := file.Read(r.sys, c.Path, maxCheckpoint)
	if err != nil {
		return 0
	}
	p, ok := parseCheckpoint(b)
	if !ok || p.sums.size > size || !r.begins(p.sums) {
		return 0
	}
	ids, err := work.RestoreIDs(p.ids)
	if err != nil || !c.Resume(p.state) {
		return 0
	}
	r.ids, r.seq, r.end, r.sums = ids, p.seq, p.sums.size, &p.sums
	r.last = ids.Last(r.opt.Writer)
	return r.end
}

// begins tells whether the file begins with the bytes that have these sums.
func (r *Record) begins(want blockSums) bool {
	buf := make([]byte, min(blockSize, want.size))
	for i, sum := range want.sums {
		from := int64(i) * blockSize
		b := buf[:min(blockSize, want.size-from)]
		if n, err := readFull(r.h, b, from); err != nil || n < len(b) || crc32.Checksum(b, castagnoli) != sum {
			return false
		}
	}
	return true
}

// checkpoint makes a new one, where the start was long and there was nothing to tell. That it cannot be written is
// nothing to tell either: the next start is as long as this one was.
func (r *Record) checkpoint(clean bool) {
	sums := r.sums
	r.sums = nil
	if sums == nil || !clean || r.fresh < cmp.Or(r.opt.Checkpoint.Every, checkpointEvery) || r.opt.ReadOnly || r.close || r.spoiled > 0 || sums.size != r.end {
		return
	}
	b := []byte(checkpointHead)
	b = binary.LittleEndian.AppendUint64(b, uint64(sums.size))
	b = binary.LittleEndian.AppendUint64(b, r.seq)
	for _, s := range sums.sums {
		b = binary.LittleEndian.AppendUint32(b, s)
	}
	for _, part := range [][]byte{r.ids.Archive(), r.opt.Checkpoint.Save()} {
		b = binary.LittleEndian.AppendUint64(b, uint64(len(part)))
		b = append(b, part...)
	}
	b = binary.LittleEndian.AppendUint32(b, crc32.Checksum(b, castagnoli))
	_ = file.Write(r.sys, r.opt.Checkpoint.Path, b, file.Options{})
}

type parsedCheckpoint struct {
	sums       blockSums
	seq        uint64
	ids, state []byte
}

func parseCheckpoint(b []byte) (p parsedCheckpoint, ok bool) {
	end := len(b) - 4
	if !bytes.HasPrefix(b, []byte(checkpointHead)) || end < len(checkpointHead)+16 ||
		binary.LittleEndian.Uint32(b[end:]) != crc32.Checksum(b[:end], castagnoli) {
		return p, false
	}
	b = b[len(checkpointHead):end]
	size := binary.LittleEndian.Uint64(b)
	p.seq = binary.LittleEndian.Uint64(b[8:])
	b = b[16:]
	n := size/blockSize + min(1, size%blockSize)
	if size == 0 || n > uint64(len(b)/4) {
		return p, false
	}
	p.sums.size = int64(size)
	for ; n > 0; n-- {
		p.sums.sums = append(p.sums.sums, binary.LittleEndian.Uint32(b))
		b = b[4:]
	}
	for _, part := range []*[]byte{&p.ids, &p.state} {
		if len(b) < 8 {
			return p, false
		}
		n := binary.LittleEndian.Uint64(b)
		if b = b[8:]; n > uint64(len(b)) {
			return p, false
		}
		*part, b = b[:n], b[n:]
	}
	return p, len(b) == 0
}
