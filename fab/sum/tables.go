package sum

import "bench.example/soapstone/fab/steel"

// Tables are the tables of the catalogue that sums look into; stock/table fills them. Each room adds its own field.
type Tables struct {
	Steel steel.Catalogue
}
