package text_test

import (
	"fmt"

	"bench.example/soapstone/fab/measure"
	"bench.example/soapstone/fab/text"
)

func ExampleReading() {
	doc, problems := text.Parse("job.toml", []byte("[saw]\nkerf = \"1/16 inn\"\ntrimm = 0.5\n"))
	if doc == nil {
		fmt.Println(problems)
		return
	}
	r := text.NewReading("job.toml")
	saw, _ := r.Top(doc).Table("saw")
	var kerf, trim measure.Length
	saw.Length("kerf", &kerf, text.NotNegative)
	saw.Length("trim", &trim, text.NotNegative)
	saw.Done()
	for _, p := range r.Problems() {
		fmt.Println(p.Long())
	}
	// Output:
	// job.toml:2: saw.kerf: "1/16 inn" is no length: "inn" is not a unit of length; write 96in, 3-1/2", 8' 3-1/2" or 2440mm
	//   2 | kerf = "1/16 inn"
	//     |              ^^^
	// job.toml:3: saw.trimm: there is no key trimm; did you mean trim?
	//   3 | trimm = 0.5
	//     | ^^^^^
}

func ExampleDoc_Set() {
	doc, _ := text.Parse("job.toml", []byte("[saw]       # the old one\nkerf = 0.0625 # blade of spring\n"))
	edited, err := doc.Set(text.At("saw", "kerf"), text.Quote("5/64"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s", edited)
	// Output:
	// [saw]       # the old one
	// kerf = "5/64" # blade of spring
}
