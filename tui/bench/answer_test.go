package bench

import (
	"testing"

	"github.com/muesli/termenv"

	"bench.example/soapstone/tui/station"
)

// TestALetterAnswersAnew: where a prompt offers yes or no, one letter and enter are an answer; it is not written behind the
// word that is offered. Any other offer stays to be changed.
func TestALetterAnswersAnew(t *testing.T) {
	d := newDriver(t, termenv.Ascii, true, stations()...)
	for _, c := range []struct{ offer, key, want string }{{no, "y", "y"}, {yes, "n", "n"}, {no, "", no}, {"A-1", "2", "A-12"}} {
		got := ""
		d.do(d.m.open(station.Ask{Prompt: "is it finished?", Initial: c.offer, Done: func(word string) ([]station.Intent, error) {
			got = word
			return nil, nil
		}}))
		if c.key != "" {
			d.press(c.key)
		}
		d.press("enter")
		if got != c.want {
			t.Errorf("%q offered, %q pressed: answered %q, wanted %q", c.offer, c.key, got, c.want)
		}
	}
}
