package main

import (
	"encoding/json"
	"io"
	"os"
	"strings"

	"github.com/mattn/go-isatty"
)

// maxList is the largest list that is read: a million lines of a benchmark.
const maxList = 16 << 20

func writeJSON(w io.Writer, v any) error {
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		return fail(exitJob, err)
	}
	_, err = w.Write(append(b, '\n'))
	return fail(exitFiles, err)
}

func asTerminal(w any) bool {
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// unicodeLocale tells whether the user's locale has Unicode.
func unicodeLocale(sh shell) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := strings.ToUpper(sh.env(name)); v != "" {
			return strings.Contains(v, "UTF-8") || strings.Contains(v, "UTF8")
		}
	}
	return false
}
