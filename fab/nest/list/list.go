// Package list reads the plain words of `soapstone nest` (2@121-3/16:45/45, 20ft@34.50, 61-1/4x2) into a nest problem,
// and gives an answer back as the contract's JSON. It is the nest without a job file.
package list

import (
	"bufio"
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
	"bench.example/soapstone/fab/text"
)

// Limits on a list: what a shop, or a benchmark, can need.
const (
	MaxLine   = 4096      // characters in a line
	MaxKinds  = 20_000    // lines
	MaxPieces = 1_000_000 // all quantities together
	maxSticks = 1_000
)

// Piece is one line of a list.
type Piece struct {
	Qty         int
	Length      measure.Length
	Left, Right float64 // the numbers of its ends
}

// ParsePiece reads QTY@LENGTH or QTY@LENGTH:LEFT/RIGHT; LEFT/RIGHT are angles from square with the sign of the
// contract's 'Ends'.
func ParsePiece(word string, unit measure.Unit) (Piece, error) {
	shape := fmt.Errorf("%q is not a piece: write QTY@LENGTH or QTY@LENGTH:LEFT/RIGHT, such as 4@57-1/2 or 2@96in:45/45", short(word))
	q, rest, ok := strings.Cut(word, "@")
	if !ok {
		return Piece{}, shape
	}
	qty, err := strconv.Atoi(strings.TrimSpace(q))
	if err != nil {
		return Piece{}, shape
	}
	if qty < 1 || qty > MaxPieces {
		return Piece{}, fmt.Errorf("%q: the quantity must be a whole number from 1 to %d", short(word), MaxPieces)
	}
	p := Piece{Qty: qty}
	length, ends, mitred := strings.Cut(rest, ":")
	if p.Length, err = measure.ParseLength(length, unit); err != nil {
		return Piece{}, fmt.Errorf("%q: %w", short(word), err)
	}
	if p.Length <= 0 {
		return Piece{}, fmt.Errorf("%q: the length must be greater than zero", short(word))
	}
	if !mitred {
		return p, nil
	}
	// A ratio (4:12) has a colon of its own; the first colon parts the length, the slash the two ends.
	l, r, ok := strings.Cut(ends, "/")
	if !ok {
		return Piece{}, fmt.Errorf("%q: two angles are wanted behind the colon, such as 45/45 or 0/22.5", short(word))
	}
	for i, side := range []string{l, r} {
		a, err := measure.ParseAngle(side)
		if err != nil {
			return Piece{}, fmt.Errorf("%q: %w", short(word), err)
		}
		if a <= -maxAngle || a >= maxAngle {
			return Piece{}, fmt.Errorf("%q: an end must be less than %g degrees from square", short(word), maxAngle)
		}
		if i == 0 {
			p.Left = a
		} else {
			p.Right = a
		}
	}
	return p, nil
}

// maxAngle is the steepest end that is read: a cut along the stick cannot be sawn.
const maxAngle = 89.0

// ParseStick reads LENGTH or LENGTH@PRICE.
func ParseStick(word string, unit measure.Unit) (nest.Stick, bool, error) {
	length, price, priced := strings.Cut(word, "@")
	l, err := measure.ParseLength(length, unit)
	if err != nil {
		return nest.Stick{}, false, fmt.Errorf("stick %q: %w", short(word), err)
	}
	if l <= 0 {
		return nest.Stick{}, false, fmt.Errorf("stick %q: the length must be greater than zero", short(word))
	}
	s := nest.Stick{Length: l}
	if priced {
		if s.Price, err = measure.ParseMoney(price); err != nil {
			return nest.Stick{}, false, fmt.Errorf("stick %q: %w", short(word), err)
		}
		if s.Price < 0 {
			return nest.Stick{}, false, fmt.Errorf("stick %q: a price cannot be negative", short(word))
		}
	}
	return s, priced, nil
}

// ParseOnHand reads LENGTH or LENGTHxQTY.
func ParseOnHand(word string, unit measure.Unit) (nest.Stick, error) {
	length, qty := word, 1
	if i := strings.LastIndexAny(word, "xX"); i > 0 {
		n, err := strconv.Atoi(strings.TrimSpace(word[i+1:]))
		if err != nil || n < 1 || n > MaxPieces {
			return nest.Stick{}, fmt.Errorf("on hand %q: behind the x a whole number is wanted, such as 61-1/4x2", short(word))
		}
		length, qty = word[:i], n
	}
	l, err := measure.ParseLength(length, unit)
	if err != nil {
		return nest.Stick{}, fmt.Errorf("on hand %q: %w", short(word), err)
	}
	if l <= 0 {
		return nest.Stick{}, fmt.Errorf("on hand %q: the length must be greater than zero", short(word))
	}
	return nest.Stick{Length: l, Limit: qty, OnHand: true}, nil
}

// Words gives the words of a list file: a piece a line (several where blanks part them and each has its own @), blank
// lines and what follows a # left out. where[i] is the line of word i.
func Words(data []byte) (words []string, where []int, err error) {
	if !utf8.Valid(data) {
		return nil, nil, fmt.Errorf("the list is not UTF-8 text")
	}
	sc := bufio.NewScanner(bytes.NewReader(data))
	sc.Buffer(nil, MaxLine)
	n := 0
	for sc.Scan() {
		n++
		line, _, _ := strings.Cut(strings.TrimPrefix(sc.Text(), "\ufeff"), "#")
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		parts := []string{line}
		if strings.Count(line, "@") > 1 {
			parts = strings.Fields(line)
		}
		for _, p := range parts {
			words, where = append(words, p), append(where, n)
		}
		if len(words) > MaxKinds {
			return nil, nil, fmt.Errorf("line %d: a list holds at most %d pieces of different kinds", n, MaxKinds)
		}
	}
	if sc.Err() != nil {
		return nil, nil, fmt.Errorf("line %d: longer than %d characters", n+1, MaxLine)
	}
	return words, where, nil
}

// Problem puts pieces and sticks together. A list has no faces: ends are seen across the depth, and sections roll and
// turn freely.
func Problem(pieces []Piece, sticks []nest.Stick, rules nest.Rules) (nest.Problem, error) {
	p := nest.Problem{Sticks: sticks, Rules: rules}
	if len(sticks) == 0 {
		return p, fmt.Errorf("no stick is given: write --stick 20ft or --on-hand 61-1/4")
	}
	if len(sticks) > maxSticks {
		return p, fmt.Errorf("more than %d kinds of stick", maxSticks)
	}
	if len(pieces) == 0 {
		return p, fmt.Errorf("no piece is given: write QTY@LENGTH, such as 4@57-1/2")
	}
	total := 0
	for i, x := range pieces {
		if total += x.Qty; total > MaxPieces {
			return p, fmt.Errorf("more than %d pieces", MaxPieces)
		}
		k := nest.Kind{Name: strconv.Itoa(i + 1), Length: x.Length, Qty: x.Qty}
		if x.Left != 0 || x.Right != 0 {
			if rules.Depth <= 0 {
				return p, fmt.Errorf("piece %d has slanted ends: give the section's depth with --depth, such as --depth 2-1/2", i+1)
			}
			k.Lays = nest.LaysOf(x.Left, x.Right, nest.Depth, nest.Rectangular)
		}
		p.Kinds = append(p.Kinds, k)
	}
	return p, nil
}

func short(word string) string {
	w := text.Clean(word)
	if r := []rune(w); len(r) > 60 {
		return string(r[:60]) + "..."
	}
	return w
}
