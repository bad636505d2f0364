package table

import "bench.example/soapstone/fab/sum"

// Sums gives the tables that the small sums of the bench look into.
func Sums() sum.Tables {
	return sum.Tables{Steel: Steel()}
}
