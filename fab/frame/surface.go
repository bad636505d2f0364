package frame

// Surface is what legs stand on.
type Surface struct {
	Name string
}
