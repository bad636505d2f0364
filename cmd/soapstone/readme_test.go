package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

// TestReadmeReference holds the reference in the README to the reader.
func TestReadmeReference(t *testing.T) {
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var now bytes.Buffer
	if err := jobReference(&now); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), "```\n"+strings.TrimRight(now.String(), "\n")+"\n```") {
		t.Error("README.md shows another reference of the job file than the reader gives; run go run ./.ci/pages")
	}
}
