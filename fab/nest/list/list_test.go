package list

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/nest"
)

func TestParsePiece(t *testing.T) {
	for _, c := range []struct {
		why, word string
		want      Piece
	}{
		{"plain", "4@57-1/2", Piece{4, 57*measure.Inch + measure.Inch/2, 0, 0}},
		{"with a unit of its own", "2@2440mm", Piece{2, 2440 * measure.Millimetre, 0, 0}},
		{"feet and inches", `1@8' 3-1/2"`, Piece{1, 8*measure.Foot + 3*measure.Inch + measure.Inch/2, 0, 0}},
		{"mitred", "2@96:45/45", Piece{2, 96 * measure.Inch, 45, 45}},
		{"leaning the other way", "2@96:-22.5/0", Piece{2, 96 * measure.Inch, -22.5, 0}},
	} {
		got, err := ParsePiece(c.word, measure.In)
		if err != nil || got != c.want {
			t.Errorf("%s: %q gives %+v, %v", c.why, c.word, got, err)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct{ word, says string }{
		{"nonsense", "QTY@LENGTH"}, {"@5", "QTY@LENGTH"}, {"x@5", "QTY@LENGTH"}, {"0@5", "whole number"}, {"-1@5", "whole number"}, {"2@", "nothing is written"},
		{"2@0", "greater than zero"}, {"2@-5", "greater than zero"}, {"2@5:45", "two angles"}, {"2@5:90/0", "less than 89"}, {"2@5:a/b", "angle"}, {"9999999@5", "whole number"},
		{"2@nan", "number"}, {"2@1e99", "exponent"}, {"2@5\x1b[31m", "not a unit"},
	} {
		_, err := ParsePiece(c.word, measure.In)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v does not say %q", c.word, err, c.says)
		}
		if err != nil && strings.ContainsAny(err.Error(), "\x1b\x07") {
			t.Errorf("%q: the message carries control characters", c.word)
		}
	}
	for _, w := range []string{"", "20ft@x", "-20ft", "20ft@-3", "0"} {
		if _, _, err := ParseStick(w, measure.In); err == nil {
			t.Errorf("stick %q was taken", w)
		}
	}
	for _, w := range []string{"", "5ftx", "5ftx0", "0", "5ftx9999999"} {
		if _, err := ParseOnHand(w, measure.In); err == nil {
			t.Errorf("on hand %q was taken", w)
		}
	}
	if _, err := Problem([]Piece{{2, measure.Foot, 45, 45}}, []nest.Stick{{Length: 2 * measure.Foot}}, nest.Rules{}); err == nil || !strings.Contains(err.Error(), "--depth") {
		t.Errorf("slanted ends without a depth: %v", err)
	}
	if _, err := Problem(nil, []nest.Stick{{Length: 1}}, nest.Rules{}); err == nil {
		t.Error("no piece at all was taken")
	}
	if _, err := Problem([]Piece{{2, measure.Foot, 0, 0}}, nil, nest.Rules{}); err == nil {
		t.Error("no stick at all was taken")
	}
}

func TestWords(t *testing.T) {
	words, where, err := Words([]byte("\ufeff# pieces\r\n4@57-1/2\n\n2@96:45/45  1@12 # two on a line\n1@8' 3\n"))
	if err != nil || fmt.Sprint(words) != "[4@57-1/2 2@96:45/45 1@12 1@8' 3]" || fmt.Sprint(where) != "[2 4 4 5]" {
		t.Errorf("%q %v %v", words, where, err)
	}
	if _, _, err := Words([]byte(strings.Repeat("x", MaxLine+2))); err == nil || !strings.Contains(err.Error(), "line 1") {
		t.Errorf("a line without end: %v", err)
	}
	if _, _, err := Words([]byte(strings.Repeat("1@1\n", MaxKinds+1))); err == nil {
		t.Error("more kinds than the limit were taken")
	}
	if _, _, err := Words([]byte("1@\xff")); err == nil {
		t.Error("text that is not UTF-8 was taken")
	}
}

func FuzzList(f *testing.F) {
	for _, s := range []string{"4@57-1/2\n2@96:45/45", "1@8' 3-1/2\"", "# x\n\n9@1e3", "2@5:4:12/0"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		words, where, err := Words(data)
		if err != nil {
			return
		}
		if len(words) != len(where) {
			t.Fatalf("%d words, %d places", len(words), len(where))
		}
		for _, w := range words {
			p, err := ParsePiece(w, measure.In)
			if err == nil && (p.Qty < 1 || p.Length <= 0) {
				t.Fatalf("%q gives %+v", w, p)
			}
			_, _, _ = ParseStick(w, measure.In)
			_, _ = ParseOnHand(w, measure.In)
		}
	})
}

func ExampleParsePiece() {
	p, _ := ParsePiece("2@121-3/16:45/45", measure.In)
	problem, _ := Problem([]Piece{p}, []nest.Stick{{Length: 20 * measure.Foot}}, nest.Rules{Kerf: measure.Inch / 16, Depth: 2*measure.Inch + measure.Inch/2})
	n, _ := nest.Solve(context.Background(), problem, nest.Options{})
	fmt.Println(len(n.Used), "stick: the two share one cut of 45 degrees")
	// Output: 1 stick: the two share one cut of 45 degrees
}

// An error of the nest calls a line's piece by its number, once.
func TestPieceNumberInErrors(t *testing.T) {
	stick, _, err := ParseStick("20ft", measure.In)
	if err != nil {
		t.Fatal(err)
	}
	piece, err := ParsePiece("3@25ft", measure.In)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Problem([]Piece{piece}, []nest.Stick{stick}, nest.Rules{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err = nest.Solve(context.Background(), p, nest.Options{}); err == nil || !strings.HasPrefix(err.Error(), "piece 1: ") {
		t.Errorf("error %v", err)
	}
}
