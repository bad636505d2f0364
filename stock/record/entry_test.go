package record

import (
	"math/big"
	"math/rand/v2"
	"strconv"
	"testing"
)

// Numbers read by eights and by a table are those that their definition reads: digits without a leading zero, no more
// than 64 bits hold, a blank behind them.
func TestNumbersOfALine(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300_000 {
		s := strconv.FormatUint(rng.Uint64()>>rng.UintN(64), 10)
		switch rng.UintN(6) {
		case 0:
			s = "0" + s
		case 1:
			s += strconv.Itoa(rng.IntN(1000))
		}
		b := []byte(s + " 12345678"[:rng.UintN(10)])
		if rng.UintN(2) == 0 {
			b[rng.IntN(len(b))] = byte(rng.UintN(256))
		}
		got, next, v := decimal(b, 0)
		want, wantNext, wantV := plainDecimal(b)
		if v != wantV || v == whole && (got != want || next != wantNext) {
			t.Fatalf("decimal %q: %d, %d, %d; want %d, %d, %d", b, got, next, v, want, wantNext, wantV)
		}
	}
	for range 300_000 {
		b := append(appendHex(nil, rng.Uint64(), 16), " x"[:rng.UintN(3)]...)
		if rng.UintN(2) == 0 {
			b[rng.IntN(len(b))] = byte(rng.UintN(256))
		}
		b = b[:rng.IntN(len(b)+1)]
		got, next, v := hex(b, 0, 16)
		want, wantNext, wantV := plainHex(b)
		if v != wantV || v == whole && (got != want || next != wantNext) {
			t.Fatalf("hex %q: %d, %d, %d; want %d, %d, %d", b, got, next, v, want, wantNext, wantV)
		}
	}
}

func plainDecimal(b []byte) (uint64, int, verdict) {
	n := 0
	for n < len(b) && b[n] >= '0' && b[n] <= '9' {
		n++
	}
	x, ok := new(big.Int).SetString(string(b[:n]), 10)
	switch {
	case n > 1 && b[0] == '0' || ok && !x.IsUint64():
		return 0, 0, bad
	case n == len(b):
		return 0, 0, short
	case n == 0 || b[n] != ' ':
		return 0, 0, bad
	}
	return x.Uint64(), n + 1, whole
}

func plainHex(b []byte) (v uint64, next int, _ verdict) {
	for i, c := range b {
		switch {
		case i == 16 && c == ' ':
			return v, 17, whole
		case i < 16 && c >= '0' && c <= '9':
			v = v*16 + uint64(c-'0')
		case i < 16 && c >= 'a' && c <= 'f':
			v = v*16 + uint64(c-'a') + 10
		default:
			return 0, 0, bad
		}
	}
	return 0, 0, short
}
