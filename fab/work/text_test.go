package work

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"bench.example/soapstone/fab/measure"
	"pgregory.net/rapid"
)

const inch = measure.Inch

// The texts are on people's disks: they may be added to, never changed.
var pinned = []struct {
	what What
	text string
}{
	{Loaded{"rail 2", "rail", "buy", 240 * inch, 0}, `{"v":1,"do":"load","stick":"rail 2","section":"rail","source":"buy","length_nm":6096000000}`},
	{Loaded{"rail 2", "rail", "shelf", 239 * inch, 240 * inch}, `{"v":1,"do":"load","stick":"rail 2","section":"rail","source":"shelf","length_nm":6070600000,"nominal_nm":6096000000}`},
	{Cut{"A", 3, "rail 2", inch / 2, 96 * inch, ""}, `{"v":1,"do":"cut","mark":"A","unit":3,"stick":"rail 2","from_nm":12700000,"to_nm":2438400000}`},
	{Cut{"A", 3, "rail 2", 0, 96 * inch, "rail|96|45,45"}, `{"v":1,"do":"cut","mark":"A","unit":3,"stick":"rail 2","to_nm":2438400000,"key":"rail|96|45,45"}`},
	{Spoiled{"A", 3, "", 0, 0, "", "wrong \"hand\""}, `{"v":1,"do":"spoil","mark":"A","unit":3,"text":"wrong \"hand\""}`},
	{Undone{ID{0xc0ffee, 17}}, `{"v":1,"do":"undo","of":"0000000000c0ffee-17"}`},
	{Tacked{"J4"}, `{"v":1,"do":"tack","joint":"J4"}`},
	{Welded{"J4", 0}, `{"v":1,"do":"weld","joint":"J4"}`},
	{Welded{"J4", 2}, `{"v":1,"do":"weld","joint":"J4","pass":2}`},
	{ArcOn{"J4", 107.5}, `{"v":1,"do":"arc-on","joint":"J4","amps":107.5}`},
	{ArcOff{ID{1, 2}, 0}, `{"v":1,"do":"arc-off","of":"0000000000000001-2"}`},
	{ArcOff{ID{1, 2}, 1772434800000000000}, `{"v":1,"do":"arc-off","of":"0000000000000001-2","at_ns":1772434800000000000}`},
	{Tripped{110}, `{"v":1,"do":"trip","amps":110}`},
	{Rested{90_000_000_000}, `{"v":1,"do":"rest","rest_ns":90000000000}`},
	{Fitted{"B", 1, 45 * inch}, `{"v":1,"do":"fit","mark":"B","unit":1,"length_nm":1143000000}`},
	{Shelved{"rail 2", "rail", 31 * inch, [2]float64{45, -22.5}}, `{"v":1,"do":"shelve","stick":"rail 2","section":"rail","length_nm":787400000,"left_deg":45,"right_deg":-22.5}`},
	{Noted{"slip crown re-measured\nat dusk: ½ in", "J4"}, `{"v":1,"do":"note","about":"J4","text":"slip crown re-measured\u000aat dusk: ½ in"}`},
	{Received{Section: "rail", Nominal: 240 * inch, Qty: 4, Price: 352500, Wall: inch / 10, Bow: inch / 2, Twist: inch / 8, Length: 241 * inch, Supplier: "Harbour Steel", NoMore: true},
		`{"v":1,"do":"receive","section":"rail","length_nm":6121400000,"nominal_nm":6096000000,"qty":4,"price_e4":352500,"wall_nm":2540000,"bow_nm":12700000,"twist_nm":3175000,"no_more":1,"supplier":"Harbour Steel"}`},
	{Received{Section: "rail", Nominal: 240 * inch, NoMore: true}, `{"v":1,"do":"receive","section":"rail","nominal_nm":6096000000,"no_more":1}`},
	{Set{"amps", "105"}, `{"v":1,"do":"set","name":"amps","value":"105"}`},
}

func TestTextsArePinned(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range pinned {
		got, err := Encode(p.what)
		if err != nil || string(got) != p.text {
			t.Errorf("%#v\n gives %s, %v\n want  %s", p.what, got, err, p.text)
		}
		back, err := Decode([]byte(p.text))
		if err != nil || !reflect.DeepEqual(back, p.what) {
			t.Errorf("%s\n reads as %#v, %v\n want     %#v", p.text, back, err, p.what)
		}
		if !json.Valid(got) {
			t.Errorf("%s is no JSON", got)
		}
		seen[kinds[p.what.fields().kind]] = true
	}
	for _, k := range kinds[1:] {
		if !seen[k] {
			t.Errorf("no text of kind %q is pinned", k)
		}
	}
}

func TestDecodeTolerant(t *testing.T) {
	for _, c := range []struct {
		text string
		want What
	}{
		{` { "unit" : 3 , "do":"cut","v":1, "stick":"s\u0020\ud83d\ude00\/", "mark":"A","to_nm":5,"who":{"a":[1,2.5e3,null,true,"x"]}, "x":[] } `,
			Cut{"A", 3, "s 😀/", 0, 5, ""}},
		{`{"v":1,"do":"note","text":"lone \ud800 surrogate","later":{}}`, Noted{"lone \ufffd surrogate", ""}},
		{`{"v":1,"do":"set","name":"n","unit":0}`, Set{"n", ""}},
	} {
		got, err := Decode([]byte(c.text))
		if err != nil || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s\n reads as %#v, %v", c.text, got, err)
		}
	}
	for _, text := range []string{`{"v":1,"do":"hoist","mark":7}`, `{"v":2,"do":"cut","unit":"three"}`} {
		got, err := Decode([]byte(text))
		if u, ok := got.(Unknown); err != nil || !ok || u.Raw != text {
			t.Errorf("%s reads as %#v, %v", text, got, err)
		}
	}
}

// Every limit is crossed, and the message read.
func TestRefused(t *testing.T) {
	long := strings.Repeat("x", MaxText+1)
	for _, c := range []struct {
		what What
		say  string
	}{
		{Cut{"", 1, "s", 0, 1, ""}, "needs a mark"},
		{Cut{"A", 0, "s", 0, 1, ""}, "units count from 1"},
		{Cut{"A", MaxUnit + 1, "s", 0, 1, ""}, "units count from 1 to 10000000"},
		{Cut{"A", 1, "", 0, 1, ""}, "needs a stick"},
		{Cut{"A", 1, "s", 2, 1, ""}, "ends (1 nm) before it begins (2 nm)"},
		{Cut{"A", 1, "s", 0, measure.MaxLength + 1, ""}, "beyond every stick"},
		{Cut{long[:MaxName+1], 1, "s", 0, 1, ""}, "mark has 257 bytes, the limit is 256"},
		{Cut{"A", 1, "s", 0, 1, long}, "key has 8193 bytes, the limit is 8192"},
		{Loaded{"s", "rail", "buy", 0, 0}, "must be above 0"},
		{Undone{}, "must name the event"},
		{ArcOff{}, "must name the event"},
		{ArcOn{"J", math.NaN()}, "no number of amps"},
		{ArcOn{"J", math.Inf(1)}, "no number of amps"},
		{Tacked{}, "needs a joint"},
		{Welded{"J", -1}, "passes count from 1"},
		{Rested{-1}, "shorter than nothing"},
		{Noted{}, "the note is empty"},
		{Noted{long, ""}, "text has 8193 bytes"},
		{Set{}, "needs a name"},
		{Received{Nominal: inch, Qty: 1}, "needs a section"},
		{Received{Section: "rail", Qty: 1}, "length of the sticks"},
		{Received{Section: "rail", Nominal: inch}, "cannot have come"},
		{Received{Section: "rail", Nominal: inch, Qty: MaxSticks + 1}, "cannot have come"},
		{Received{Section: "rail", Nominal: inch, Qty: 1, Length: 3 * inch}, "cannot measure"},
		{Received{Section: "rail", Nominal: inch, Qty: 1, Price: -1}, "is no price"},
		{Received{Section: "rail", Nominal: inch, Qty: 1, Bow: 2 * inch}, "smaller than the stick"},
		{Received{Section: "rail", Nominal: inch, Qty: 1, Supplier: long[:MaxName+1]}, "supplier has 257 bytes"},
		{Unknown{"hoist", ""}, "later version"},
	} {
		_, err := Encode(c.what)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%.60v: %v, want %q", c.what, err, c.say)
		}
	}
	for _, c := range []struct{ text, say string }{
		{``, `"{" is wanted`},
		{`{"v":1,"do":"cut"`, `"," is wanted`},
		{`{"v":1,"do":"cut"}x`, "nothing may follow"},
		{`{"v":1}`, `needs "do"`},
		{`{"do":"cut"}`, `needs "v"`},
		{`{"v":1,"do":3}`, "the kind of an event is a text"},
		{`{"v":1,"do":"cut","mark":3}`, "a text is wanted here"},
		{`{"v":1,"do":"cut","unit":"3"}`, "a whole number is wanted"},
		{`{"v":1,"do":"cut","unit":3.5}`, "a whole number is wanted"},
		{`{"v":1,"do":"cut","unit":99999999999999999999}`, "a whole number is wanted"},
		{`{"v":1,"do":"cut","unit":03}`, "this is no number"},
		{`{"v":1,"do":"trip","amps":1e999}`, "a number is wanted"},
		{`{"v":1,"do":"undo","of":"17"}`, "has to name an event"},
		{`{"v":1,"do":"undo","of":"0000000000c0ffee-+7"}`, "has to name an event"},
		{"{\"v\":1,\"do\":\"no\x01te\"}", "control character"},
		{`{"v":1,"do":"note","text":"\q"}`, "an escape that JSON does not know"},
		{`{"v":1,"x":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + `}`, "nested too deep"},
		{`{"v":1,"do":"` + long + `"}`, "too long"},
	} {
		if _, err := Decode([]byte(c.text)); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%.60s: %v, want %q", c.text, err, c.say)
		}
	}
}

// anything draws an event of any kind, with names that collide.
func anything(t *rapid.T) What {
	name := rapid.SampledFrom([]string{"A", "B", "", "rail 1", "rail 2", "J1", "\x1b[31m", "½\"", "a\\b"})
	length := rapid.Map(rapid.Int64Range(-1000, 10_000_000_000), func(n int64) measure.Length { return measure.Length(n) })
	unit := rapid.IntRange(0, 3)
	id := rapid.Custom(func(t *rapid.T) ID {
		return ID{rapid.Uint64Range(1, 3).Draw(t, "writer"), rapid.Uint64Range(0, 50).Draw(t, "number")}
	})
	return rapid.OneOf(
		rapid.Custom(func(t *rapid.T) What {
			return Loaded{name.Draw(t, "stick"), name.Draw(t, "section"), "buy", length.Draw(t, "length"), 0}
		}),
		rapid.Custom(func(t *rapid.T) What {
			return Cut{name.Draw(t, "mark"), unit.Draw(t, "unit"), name.Draw(t, "stick"), length.Draw(t, "from"), length.Draw(t, "to"), name.Draw(t, "key")}
		}),
		rapid.Custom(func(t *rapid.T) What {
			return Spoiled{name.Draw(t, "mark"), unit.Draw(t, "unit"), name.Draw(t, "stick"), 0, 0, "", rapid.String().Draw(t, "why")}
		}),
		rapid.Map(id, func(id ID) What { return Undone{id} }),
		rapid.Map(name, func(n string) What { return Tacked{n} }),
		rapid.Map(name, func(n string) What { return Welded{n, len(n)} }),
		rapid.Map(name, func(n string) What { return ArcOn{n, float64(len(n)) / 3} }),
		rapid.Custom(func(t *rapid.T) What { return ArcOff{id.Draw(t, "of"), rapid.Int64Range(0, 5).Draw(t, "at")} }),
		rapid.Map(rapid.Float64(), func(a float64) What { return Tripped{a} }),
		rapid.Custom(func(t *rapid.T) What {
			return Fitted{name.Draw(t, "mark"), unit.Draw(t, "unit"), length.Draw(t, "length")}
		}),
		rapid.Custom(func(t *rapid.T) What {
			return Shelved{name.Draw(t, "stick"), name.Draw(t, "section"), length.Draw(t, "length"), [2]float64{45, -0.5}}
		}),
		rapid.Custom(func(t *rapid.T) What {
			return Received{Section: name.Draw(t, "section"), Nominal: length.Draw(t, "nominal"), Qty: rapid.IntRange(0, 9).Draw(t, "qty"), Length: length.Draw(t, "length"),
				Price: measure.Money(rapid.Int64Range(-1, 1e9).Draw(t, "price")), Wall: length.Draw(t, "wall"), Bow: length.Draw(t, "bow"), Supplier: name.Draw(t, "supplier"), NoMore: rapid.Bool().Draw(t, "no more")}
		}),
		rapid.Map(rapid.String(), func(s string) What { return Noted{s, "J1"} }),
		rapid.Map(rapid.String(), func(s string) What { return Set{"amps", s} }),
	).Draw(t, "event")
}

// What Encode accepts, Decode reads as the same value, and encoding/json reads as the same
// object; the text is one line.
func TestTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anything(t)
		text, err := Encode(w)
		if err != nil {
			return
		}
		if strings.ContainsAny(string(text), "\n\x00") || !utf8.Valid(text) {
			t.Fatalf("%q is not one clean line", text)
		}
		back, err := Decode(text)
		if err != nil || !reflect.DeepEqual(back, w) {
			t.Fatalf("%#v\n came back as %#v, %v", w, back, err)
		}
		var object map[string]any
		if err := json.Unmarshal(text, &object); err != nil {
			t.Fatal(err)
		}
		if n, ok := w.(Noted); ok && object["text"] != n.Text {
			t.Fatalf("%q is read by others as %q", n.Text, object["text"])
		}
	})
}

// FuzzDecode: whatever comes, no panic; what is accepted is JSON, and means the same after it
// was written and read again.
func FuzzDecode(f *testing.F) {
	for _, p := range pinned {
		f.Add([]byte(p.text))
	}
	f.Add([]byte(`{"v":2,"do":"x","a":[{"b":1e5}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		w, err := Decode(text)
		s := New()
		s.Apply(ID{1, 1}, 1, text)
		s.Problems()
		if err != nil {
			return
		}
		if !json.Valid(text) && utf8.Valid(text) {
			t.Fatalf("%q is accepted and is no JSON", text)
		}
		if _, ok := w.(Unknown); ok {
			return
		}
		again, err := Encode(w)
		if err != nil {
			t.Fatalf("%q reads as %#v, which cannot be written: %v", text, w, err)
		}
		back, err := Decode(again)
		if err != nil || !reflect.DeepEqual(back, w) {
			t.Fatalf("%#v\n came back as %#v, %v", w, back, err)
		}
	})
}
