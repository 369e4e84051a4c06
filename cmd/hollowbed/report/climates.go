package report

import "hollowbed/zones/climate"

// Climates are the built-in climates nearest to a place.
type Climates struct {
	Near         string       `json:"near"`
	LatitudeDeg  Number       `json:"latitude_deg" schema:"known"`
	LongitudeDeg Number       `json:"longitude_deg" schema:"known"`
	ElevationM   Number       `json:"elevation_m"`
	TimeZone     string       `json:"time_zone"`
	Stations     []climateRow `json:"stations"`
}

// climateRow is one of them. Days of frost are days of a leap year, 0 where fewer than
// half of the years have any.
type climateRow struct {
	Station    string   `json:"station"`
	Name       string   `json:"name"`
	DistanceKM Number   `json:"distance_km" schema:"known; 0.."`
	HigherM    Number   `json:"higher_m"`
	Years      int      `json:"years"`
	RainMM     Number   `json:"rain_mm" schema:"known; 0.."`
	WetDays    Number   `json:"wet_days" schema:"known; 0.."`
	ColdestC   Number   `json:"coldest_one_in_ten_c" schema:"known"`
	LastFrost  int      `json:"last_frost_day"`
	FirstFrost int      `json:"first_frost_day"`
	Doubts     []string `json:"doubts"`
}

// NewClimates makes the document of the stations near a place.
func NewClimates(spot climate.Spot, near []climate.Near) Climates {
	out := Climates{
		Near: spot.Title, LatitudeDeg: Number(spot.LatDeg), LongitudeDeg: Number(spot.LonDeg),
		ElevationM: Number(spot.ElevationM), TimeZone: spot.TimeZone,
	}
	for _, n := range near {
		f := n.Facts()
		out.Stations = append(out.Stations, climateRow{
			Station: n.ID, Name: n.Title(), DistanceKM: Number(n.KM), HigherM: Number(n.HigherM), Years: n.Years,
			RainMM: Number(f.RainMM), WetDays: Number(f.WetDays), ColdestC: Number(f.ColdestC),
			LastFrost: f.LastFrost, FirstFrost: f.FirstFall, Doubts: orEmpty(n.Doubts()),
		})
	}
	return out
}
