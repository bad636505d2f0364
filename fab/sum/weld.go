package sum

func weldSums() []Sum { return nil }
