package sum

func holdSums() []Sum { return nil }
