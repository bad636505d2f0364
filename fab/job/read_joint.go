package job

import (
	"strconv"
	"strings"

	"bench.example/soapstone/fab/text"
)

// Facings are the words by which [[joint]] sides names a side of a joint: six directions of the frame as it stands, and the
// two sides of a corner.
func Facings() []string {
	return []string{"top", "bottom", "left", "right", "front", "back", "inside", "outside"}
}

// sides reads which sides of a joint are welded: their number, or the words for them.
//
//	sides = 3                  the three that lie easiest
//	sides = ["top", "left"]    those, in whatever order
func (rd *reader) sides(f *text.Fields, j *Joint) {
	const like = `["top", "left"]`
	switch v := f.Find("sides"); {
	case v == nil:
		f.Count("sides", &j.Sides, 1, 4, 0)
		f.List("sides", 1, 8, like, 0) // for the reference: both are understood
	case v.Kind == text.Array || v.Kind == text.String && !isCount(v.Text):
		list := words(f, "sides", like)
		if v.Kind == text.Array && len(v.Items) == 0 {
			f.Fault(text.CodeValue, "sides", "the list is empty; it names the sides that are welded: %s", like)
		}
		seen := map[string]bool{}
		for _, v := range list {
			w, ok := f.ChoiceOf(v, "sides", Facings()...)
			switch {
			case !ok:
			case seen[w]:
				f.FaultAt(v, text.CodeDuplicate, "sides", "%s stands twice; each side comes once", w)
			default:
				seen[w] = true
				j.Facing = append(j.Facing, nameAt(f, "sides", v))
			}
		}
	case v.Kind == text.Integer || v.Kind == text.String:
		f.Count("sides", &j.Sides, 1, 4, 0)
	default:
		f.Take("sides")
		f.Fault(text.CodeType, "sides", "%s tells no sides; write how many are welded, 1 to 4, or which: %s", text.Short(v.Raw(), 48), like)
	}
}

// isCount tells whether a word is a number.
func isCount(s string) bool {
	_, err := strconv.Atoi(strings.TrimSpace(s))
	return err == nil
}
