package nest

import "bench.example/soapstone/fab/measure"

// Partings gives where the yard cuts the stick, from its first end; none where it stays whole.
func (u Used) Partings() []measure.Length {
	if len(u.Parts) < 2 {
		return nil
	}
	out := make([]measure.Length, 0, len(u.Parts)-1)
	var at measure.Length
	for _, p := range u.Parts[:len(u.Parts)-1] {
		at += p
		out = append(out, at)
	}
	return out
}
