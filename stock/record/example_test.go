package record_test

import (
	"fmt"
	"os"
	"path/filepath"

	"bench.example/soapstone/stock/file"
	"bench.example/soapstone/stock/record"
)

// What Append gave back is on the disk; a later Open finds it.
func ExampleOpen() {
	dir, err := os.MkdirTemp("", "soapstone")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "rack.work")
	r, _, err := record.Open(file.OS, path, record.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = r.Append(record.Draft{At: 1, Payload: []byte("A-1 cut")}, record.Draft{At: 2, Payload: []byte("A-2 cut")})
	fmt.Println(err, r.Close())
	_, notes, err := record.Open(file.OS, path, record.Options{ReadOnly: true, Visit: func(e record.Entry) { fmt.Printf("%d %s\n", e.At, e.Payload) }})
	fmt.Println(len(notes), err)
	// Output:
	// <nil> <nil>
	// 1 A-1 cut
	// 2 A-2 cut
	// 0 <nil>
}
