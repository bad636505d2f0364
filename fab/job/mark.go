package job

import "regexp"

var markName = regexp.MustCompile(`^[A-HJ-NP-Z]{1,3}(-[LR])?$`)

// IsMark tells whether a name may be a mark that the cut list gives: letters without I and O, and a hand.
func IsMark(name string) bool { return markName.MatchString(name) }
