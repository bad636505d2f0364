// Package example holds the built-in job: a boathouse's kayak rack on a crowned slipway.
package example

import _ "embed"

// Name is the file name under which the example is kept.
const Name = "kayak-rack.toml"

// Job is the text of the example.
//
//go:embed kayak-rack.toml
var Job []byte
