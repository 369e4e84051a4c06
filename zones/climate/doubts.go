package climate

import "math"

// dryMM is below how much rain a year a country counts as dry here: near the 250 to
// 500 mm of the steppe; common practice, no source.
const dryMM = 350

// Mountains are told by heights within aroundKM that differ by reliefM, or by a station
// that is awayM higher or lower; a station is far from farKM on. Chosen over the built-in
// stations: of 2,450, each against the nearest other, the yearly rain of the 17 % so told
// is over 30 % off at 41 %, that of all others at 7 % (TestMountainsDiffer).
const (
	aroundKM = 40.0
	reliefM  = 600.0
	awayM    = 200.0
	farKM    = 80.0
)

// Doubts says where a climate is known to do worse than elsewhere, for people to read.
func (n Normals) Doubts() []string {
	var out []string
	year := n.YearRainMM()
	if year < dryMM {
		out = append(out, "dry country: single storms decide; made years miss the longest droughts and the rarest floods")
	}
	if n.warmNights() {
		out = append(out, "the winter nights of this station look too warm to be true: do not trust how cold it gets, and take another station")
	}
	most, mean := 0.0, 0.0
	for m := range n.Months {
		three := n.Months[m].RainMM(30) + n.Months[(m+1)%12].RainMM(30) + n.Months[(m+2)%12].RainMM(30)
		if three > most {
			most, mean = three, n.Months[(m+1)%12].TMaxC
		}
	}
	if most > 0.55*year && mean > 22 && year >= dryMM {
		out = append(out, "most rain falls in one warm season (monsoon): made years start and end it too evenly")
	}
	return out
}

// Doubts are those of the station's months, and what comes of where the lot lies.
func (n Near) Doubts() []string {
	out := n.Normals.Doubts()
	switch {
	case n.mountains(Stations(), places()):
		out = append(out, "mountains: rain changes from valley to slope; in 4 of 10 such places the year's is over 30 % off the nearest station's")
	case n.far():
		out = append(out, "the station is far: in 4 of 10 such places the year's rain is over 30 % off the nearest station's")
	}
	return out
}

func (n Near) far() bool { return n.KM >= farKM }

func (n Near) mountains(stations []Station, towns []Place) bool {
	if math.Abs(n.HigherM) >= awayM {
		return true
	}
	lat, lon := n.spot.LatDeg, n.spot.LonDeg
	if math.IsNaN(lon) {
		lat, lon = n.LatDeg, n.LonDeg
	}
	return relief(lat, lon, stations, towns) >= reliefM
}

// relief is how far the heights of stations and places around a point differ, m.
func relief(lat, lon float64, stations []Station, towns []Place) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	see := func(atLat, atLon, m float64) {
		if math.Abs(atLat-lat)*111 < aroundKM && distanceKM(lat, lon, atLat, atLon) < aroundKM { // a degree is 111 km
			low, high = min(low, m), max(high, m)
		}
	}
	for _, s := range stations {
		see(s.LatDeg, s.LonDeg, s.ElevationM)
	}
	for _, p := range towns {
		see(p.LatDeg, p.LonDeg, p.ElevationM)
	}
	return high - low
}
