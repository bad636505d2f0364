package sum

func liftSums() []Sum { return nil }
