package sum

func steelSums() []Sum { return nil }
