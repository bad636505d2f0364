package sum

func priceSums() []Sum { return nil }
