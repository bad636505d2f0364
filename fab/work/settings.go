package work

import "strings"

// Settings gives the settings whose names begin with prefix, by the rest of their names.
func (s *State) Settings(prefix string) map[string]string {
	out := map[string]string{}
	for name, value := range s.settings {
		if rest, ok := strings.CutPrefix(name, prefix); ok {
			out[rest] = value
		}
	}
	return out
}
