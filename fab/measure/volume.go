package measure

// Volumes, exact by definition: the US gallon is 231 cubic inches.
const (
	GallonL    = 231 * InchMM * InchMM * InchMM / 1e6 // litres
	CubicFootL = 1728 * InchMM * InchMM * InchMM / 1e6
)

// ParseVolume reads a volume in litres: `1gal`, `1qt`, `750ml`, `5l`, `80cuft`. US measures.
func ParseVolume(text string) (float64, error) {
	return quantity("volume", text, "1gal, 1qt, 750ml or 5l", 0, []scale{
		{"l litre litres liter liters", 1}, {"ml", 0.001}, {"m3", 1000}, {"gal gallon gallons", GallonL}, {"qt quart quarts", GallonL / 4},
		{"pt pint pints", GallonL / 8}, {"floz", GallonL / 128}, {"cuft cf ft3", CubicFootL}})
}

// ParseFlow reads a flow of gas in litres a minute: `12l/min`, `25cfh` (cubic feet an hour).
func ParseFlow(text string) (float64, error) {
	return quantity("flow", text, "25cfh or 12l/min", 0, []scale{{"l/min lpm", 1}, {"cfh cuft/h", CubicFootL / 60}, {"m3/h", 1000.0 / 60}})
}

// ParseFilm reads the thickness of a film of paint in mm: `2mil` (thousandths of an inch), `50um`, `50 micron`.
func ParseFilm(text string) (float64, error) {
	return quantity("film", text, "2mil or 50um", 0, []scale{{"mil mils thou", InchMM / 1000}, {"um \u00b5m \u03bcm micron microns", 0.001}, {"mm", 1}, {"in", InchMM}})
}

// ParseDensity reads a density in kg/l: `1.35kg/l`, `11.2lb/gal`.
func ParseDensity(text string) (float64, error) {
	return quantity("density", text, "1.35kg/l or 11.2lb/gal", 0, []scale{{"kg/l kg/L g/ml g/cm3", 1}, {"kg/m3", 0.001}, {"lb/gal", PoundKG / GallonL}})
}
