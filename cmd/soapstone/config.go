package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/muesli/termenv"

	"bench.example/soapstone/fab/text"
	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/tui/bench"
	"bench.example/soapstone/tui/look"
)

// configName is the file of the user's own settings, in the configuration folder beside shop.toml.
const configName = "config.toml"

// configStart is what a config file begins with that the workbench makes itself.
const configStart = "# How the workbench looks and sounds, for every job; key g in the workbench changes it too.\n" +
	"#   ground = auto | dark | light          auto: as the terminal says\n" +
	"#   colour = auto | none | 16 | 256 | true\n" +
	"#   signs  = auto | unicode | ascii       auto: as the locale says\n" +
	"#   bell, mouse = true | false\n"

// readConfig reads the user's settings. What is wrong with the file is told, and the rest of it counts.
func readConfig(sh shell) (s bench.Settings, told []string) {
	if name := configFile(sh, configName); name != "" {
		data, _, err := file.Read(file.OS, name, file.MaxText)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			told = append(told, err.Error())
		}
		var problems []text.Problem
		s, problems = configOf(name, data)
		for _, p := range problems {
			told = append(told, p.String())
		}
	}
	// The environment stands above the file: it is what somebody says for this one time.
	if v := sh.env("SOAPSTONE_THEME"); slices.Contains(look.Grounds(), v) {
		s.Ground = v
		s.Overrule = "SOAPSTONE_THEME=" + v + " stands above it at the next start"
	}
	return s, told
}

// configOf reads the text of a config file.
func configOf(name string, data []byte) (s bench.Settings, problems []text.Problem) {
	doc, problems := text.Parse(name, data)
	if doc == nil {
		return s, problems
	}
	rd := text.NewReading(name)
	f := rd.Top(doc)
	choice := func(key string, of []string, to *string) {
		v := f.Find(key)
		var word string
		if !f.Text(key, &word, 0) {
			return
		}
		if !slices.Contains(of, word) {
			f.FaultAt(v, text.CodeValue, key, "%s cannot be; write %s", text.Short(text.Quote(word), 40), text.List(of))
			return
		}
		*to = word
	}
	choice("ground", look.Grounds(), &s.Ground)
	choice("colour", look.Colours(), &s.Colour)
	choice("signs", look.SignSets(), &s.Signs)
	bell, mouse := true, true
	f.Bool("bell", &bell, 0)
	f.Bool("mouse", &mouse, 0)
	s.Quiet, s.NoMouse = !bell, !mouse
	f.Done()
	return s, append(problems, rd.Problems()...)
}

// keepConfig writes the settings into the config file; comments and order of the user stay.
func keepConfig(sh shell, s bench.Settings) error {
	name := configFile(sh, configName)
	if name == "" {
		return errors.New("HOME is not set")
	}
	data, at, err := file.Read(file.OS, name, file.MaxText)
	opt := file.Options{Expect: &at}
	if errors.Is(err, fs.ErrNotExist) {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		data, opt = []byte(configStart), file.Options{Fresh: true}
	} else if err != nil {
		return err
	}
	was, _ := configOf(name, data)
	set := func(key, value string, same bool) error {
		doc, problems := text.Parse(name, data)
		if doc == nil {
			return errors.New(problems[0].String())
		}
		if same && doc.Find(text.At(key)) == nil {
			return nil // the usual is not written where nobody wrote it
		}
		var err error
		data, err = doc.Set(text.At(key), value)
		return err
	}
	auto := func(s string) string {
		if s == "" {
			return look.Auto
		}
		return s
	}
	truth := func(b bool) string {
		if b {
			return "true"
		}
		return "false"
	}
	for _, err := range []error{
		set("ground", text.Quote(auto(s.Ground)), auto(s.Ground) == auto(was.Ground)),
		set("colour", text.Quote(auto(s.Colour)), auto(s.Colour) == auto(was.Colour)),
		set("signs", text.Quote(auto(s.Signs)), auto(s.Signs) == auto(was.Signs)),
		set("bell", truth(!s.Quiet), s.Quiet == was.Quiet),
		set("mouse", truth(!s.NoMouse), s.NoMouse == was.NoMouse),
	} {
		if err != nil {
			return err
		}
	}
	return file.Write(file.OS, name, data, opt)
}

// found is what the environment says of the terminal: NO_COLOR and the colour profile, the locale, and a guess at the
// ground from COLORFGBG, which some terminals set; the terminal itself is asked later.
func found(sh shell) look.Found {
	f := look.Found{Profile: termenv.NewOutput(os.Stdout).EnvColorProfile(), Unicode: unicodeLocale(sh) && sh.env("TERM") != "linux"}
	if v := sh.env("COLORFGBG"); v != "" {
		switch v[strings.LastIndexByte(v, ';')+1:] {
		case "7", "15":
			f.Ground = look.Light
		}
	}
	return f
}
