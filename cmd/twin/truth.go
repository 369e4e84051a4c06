package main

// madeUp is the made-up world by its figures. They were chosen before any
// policy was run and are not tuned to any; the sensitivity runs change them.
type madeUp struct {
	Gardens int
	Seasons int
	Seed    uint64

	// What nobody in the garden knows.
	SpeciesSpread float64 // of ln(true limit of a species / catalogue)
	PlantSpread   float64 // of ln(true limit of a plant / that of its species)
	SoilError     float64 // of ln(true rate of the ground / believed)
	SunSpreadH    float64 // of the true least and most sun less the catalogue's, hours a day
	ColdSpreadC   float64 // of the true lowest temperature less the catalogue's
	Edge          float64 // of ln severity from season to season in one plant

	YoungShare   float64 // of its limits that a plant bears in its first season
	MovedShare   float64 // and in the season after a move
	MoveShock    float64 // chance that a move alone makes a plant struggle in the season after
	Dies         float64 // chance that a plant past a limit dies in that season; else it struggles
	SunLossPerH  float64 // chance of struggling per hour of sun outside the true range
	OtherChance  float64 // chance a season to be eaten, buried or sick
	OtherDies    float64 // and of those, to die
	SlowChance   float64 // chance of sulking in the first season, or in the first after a move
	ByLabel      float64 // share of plants that were planted by their label, not by computed risk
	FirstWatered float64 // share of gardens watered once a week in dry spells of the first season

	// The notes.
	NoteNoise   float64 // multiplies the two shares of faulty notes
	SignSpread  float64 // of ln(odds of a sign given a cause / those of the table)
	WrongSigns  float64 // share of notes with one sign missed or one too many
	DeadShow    float64 // share of its signs that a dead plant still shows
	VigourSlips float64 // share of notes with a vigour one too high or too low

	// Ponds that are watched.
	Ponds      int     // a season and garden
	PondSpread float64 // of ln(rate at which one falls / true rate of the ground)
	StickMM    float64 // of a reading of the depth
}

// defaultTruth says how large each unknown is, and why.
func defaultTruth() madeUp {
	return madeUp{
		Gardens: 1000, Seasons: 5, Seed: 1,
		SpeciesSpread: 0.4, // growers' figures are classes a factor of about 2 wide
		PlantSpread:   0.2, // seedlings of one species, and spots of one bed, differ by a fifth
		SoilError:     0.3, // repeated soak tests of one lot differ by about a third
		SunSpreadH:    0.7, // "full sun" is 6 hours in one book and 5 or 7 in the next
		ColdSpreadC:   2,   // less than half of a hardiness zone
		Edge:          0.1, // the same spell does not always do the same
		YoungShare:    0.5, // as stated for the first year
		MovedShare:    0.8, // a moved plant has lost some of its roots
		MoveShock:     0.06,
		Dies:          0.3, // a plant past its limits is seen to suffer for some seasons before it is gone
		SunLossPerH:   0.12,
		OtherChance:   0.04,
		OtherDies:     0.15,
		SlowChance:    0.12,
		ByLabel:       0.4, // most people mix the two
		FirstWatered:  0.6,
		NoteNoise:     1,
		SignSpread:    0.5, // of the table's odds, a factor of 1.6 either way
		WrongSigns:    0.1,
		DeadShow:      0.5,
		VigourSlips:   0.12,
		Ponds:         3,
		PondSpread:    0.3, // cold water, dry ground, leaves on the mix
		StickMM:       8,   // a stick in mud
	}
}
