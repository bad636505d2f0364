package sum

func geometrySums() []Sum { return nil }
