package work

import (
	"testing"

	"bench.example/soapstone/fab/measure"
)

func TestReceiptsCountUntilUndone(t *testing.T) {
	s := New()
	apply := func(n uint64, w What) {
		t.Helper()
		text, err := Encode(w)
		if err != nil {
			t.Fatal(err)
		}
		s.Apply(ID{1, n}, int64(n), text)
	}
	apply(1, Received{Section: "rail", Nominal: 240 * inch, Qty: 3, Price: 33 * measure.Whole, Supplier: "Harbour Steel"})
	apply(2, Received{Section: "rail", Nominal: 288 * inch, Qty: 1, NoMore: true})
	c := s.Clone()
	apply(3, Undone{ID{1, 1}})
	if r := s.Receipts(); len(r) != 1 || r[0].Nominal != 288*inch || !r[0].NoMore || r[0].ID != (ID{1, 2}) {
		t.Errorf("after the undo: %+v", r)
	}
	apply(4, Undone{ID{1, 1}}) // twice is once
	if len(s.Receipts()) != 1 {
		t.Error("the second undo took another receipt")
	}
	if r := c.Receipts(); len(r) != 2 || r[0].Qty != 3 || r[0].At != 1 {
		t.Errorf("the copy followed the original: %+v", r)
	}
	if len(s.Problems()) > 0 {
		t.Error(s.Problems())
	}
	for n := uint64(10); n < keptReceipts+20; n++ {
		apply(n, Received{Section: "rail", Nominal: inch, Qty: 1})
	}
	if len(s.Receipts()) != keptReceipts || len(s.Problems()) == 0 {
		t.Errorf("%d receipts are kept, problems %v", len(s.Receipts()), s.Problems())
	}
}

func TestReceiptWords(t *testing.T) {
	w := Received{Section: "rail", Nominal: 240 * inch, Qty: 3, Price: 33 * measure.Whole, Wall: inch * 72 / 1000, Bow: inch / 2, Supplier: "Harbour Steel", NoMore: true}
	got := Words(w, measure.Sixteenths.PrintLong)
	want := `3 sticks of rail, 240" (20'), came from Harbour Steel at 33.00, bow 1/2", wall 0.072 in (1.83 mm); the yard has no more`
	if got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}
