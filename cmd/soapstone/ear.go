package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"

	"bench.example/soapstone/tui/look"
)

// askGround is the question for the terminal's background colour (xterm control sequences, OSC 11).
const askGround = "\x1b]11;?\x1b\\"

// asksGround tells whether a terminal of that name may be asked: one that takes the question for text may not.
func asksGround(term string) bool { return term != "" && term != "dumb" && term != "linux" }

// ear is the terminal's input with the answers to the question for its background taken out: the screen library would take
// them for keys.
type ear struct {
	*os.File
	heard func(look.Theme)
	held  []byte // the beginning of an answer whose end has not come yet
}

// longestAnswer is how long an answer can be; a longer one is none.
const longestAnswer = 64

// Read gives what was typed.
func (e *ear) Read(p []byte) (int, error) {
	held := len(e.held)
	if len(p) <= held {
		return 0, io.ErrShortBuffer
	}
	n, err := e.File.Read(p[held:])
	copy(p, e.held)
	e.held = nil
	keys, rest, ground, ok := sift(p[:held+max(n, 0)])
	if ok && e.heard != nil {
		e.heard(ground)
	}
	if err == nil {
		e.held = bytes.Clone(rest)
	} else {
		keys = append(keys, rest...)
	}
	return copy(p, keys), err
}

// sift takes the last answer out of what was read: what was typed, the beginning of an answer at the end, and the ground
// that was answered.
func sift(b []byte) (keys, rest []byte, ground look.Theme, ok bool) {
	const head = "\x1b]"
	for {
		at := bytes.Index(b, []byte(head))
		if at < 0 {
			return append(keys, b...), nil, ground, ok
		}
		end, width := bytes.IndexByte(b[at:], '\a'), 1
		if st := bytes.Index(b[at+2:], []byte("\x1b\\")); st >= 0 && (end < 0 || st+2 < end) {
			end, width = st+2, 2
		}
		if end < 0 {
			if len(b)-at < longestAnswer {
				return append(keys, b[:at]...), b[at:], ground, ok
			}
			return append(keys, b...), nil, ground, ok
		}
		if g, known := groundOf(string(b[at : at+end])); known {
			ground, ok = g, true
		}
		keys = append(keys, b[:at]...) // an answer to another question is nothing typed either
		b = b[at+end+width:]
	}
}

// groundOf reads an answer: rgb: and three parts of one to four hexadecimal digits.
func groundOf(answer string) (look.Theme, bool) {
	_, colour, ok := strings.Cut(answer, "]11;rgb:")
	if !ok {
		return 0, false
	}
	var part [3]float64
	words := strings.Split(colour, "/")
	if len(words) != 3 {
		return 0, false
	}
	for i, w := range words {
		var v uint64
		if n, err := fmt.Sscanf(w, "%x", &v); n != 1 || err != nil || len(w) > 4 {
			return 0, false
		}
		part[i] = float64(v) / float64(uint64(1)<<(4*len(w))-1)
	}
	return look.GroundOf(part[0], part[1], part[2]), true
}
