package main

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/zones"
	"hollowbed/zones/climate"
)

// towns stand for the states and regions of the lists: a large town of each.
func towns() [][2]string {
	return [][2]string{
		{"ME", "Bangor, ME"}, {"NY", "White Plains, NY"}, {"CT", "Hartford, CT"}, {"MD", "Baltimore, MD"}, {"WV", "Charleston, WV"}, {"Ontario, Great Lakes", "Buffalo, NY"},
		{"WI", "Madison, WI"}, {"MN", "Minneapolis, MN"}, {"IN", "Indianapolis, IN"}, {"MI", "Detroit, MI"}, {"MO", "Columbia, MO"},
		{"NC", "Wilmington, NC"}, {"AL", "Auburn, AL"}, {"FL", "Orlando, FL"}, {"LA", "Baton Rouge, LA"},
		{"TX", "College Station, TX"}, {"NM", "Albuquerque, NM"}, {"WA", "Seattle, WA"}, {"ID", "Nampa, ID"}, {"AZ", "Phoenix, AZ"}, {"GA", "Atlanta, GA"},
	}
}

// lots are the ordinary beds that a list is taken to speak of: 20 m2, 150 mm
// deep, a roof of seven times the bed, on three soils by their measured rate.
func soils() []string { return []string{"50 mm/h", "20 mm/h", "8 mm/h"} }

// depths of roots for which the drought is worked out, cm.
func rootDepths() []float64 { return []float64{15, 30, 45, 60, 80, 105, 200} }

// A dose is what a zone of a lot does to a plant, in the units of the limits:
// the one-year-in-ten of its hardest band but for the area outside 90 %.
type dose struct {
	place, soil, zone string
	wetH              float64
	dryD              []float64 // by rootDepths
	rainMM            float64
}

// exposed runs an ordinary lot in a town.
func exposed(town, soil string) (*zones.Exposure, error) {
	spot, err := climate.FindSpot(town)
	if err != nil {
		return nil, err
	}
	return exposedAt(spot, "nearest", soil)
}

func exposedAt(spot climate.Spot, station, soil string) (*zones.Exposure, error) {
	var a zones.Answers
	if spot.TimeZone == "" {
		spot.TimeZone = "UTC"
	}
	for key, text := range map[string]string{
		"units": "metric", "name": "Ordinary", "latitude": fmt.Sprint(spot.LatDeg), "time-zone": spot.TimeZone, "roof-area": "140 m2", "roof-share": "100 %",
		"soil": soil, "shape": "rectangle", "length": "5 m", "width": "4 m", "ponding-depth": "150 mm", "sun": "6 h",
	} {
		if err := a.Set(key, text); err != nil {
			return nil, err
		}
	}
	a.Longitude, a.Station = fmt.Sprint(spot.LonDeg), station
	g, err := zones.ReadGarden(spot.Title, strings.NewReader(zones.Template(a)))
	if err != nil {
		return nil, err
	}
	rec, err := g.ReadWeather(nil)
	if err != nil {
		return nil, err
	}
	lot, err := zones.Prepare(g, rec)
	if err != nil {
		return nil, err
	}
	return lot.Expose()
}

// dosesOf are the doses of a lot by zone.
func dosesOf(place, soil string, e *zones.Exposure) []dose {
	var all []dose
	judge := plants.NewJudge(e)
	for _, zone := range []string{"bottom", "slope", "rim"} {
		d := dose{place: place, soil: soil, zone: zone, rainMM: e.Record.Figures.MeanYearMM}
		for i, root := range rootDepths() {
			v, ok := judge.Zone(catalogue.Plant{ID: "probe", WetH: 100, PondMM: 1000, DryD: 30, LowestC: -80, RootCM: root, SunMinH: 0, SunMaxH: 24}, zone)
			if !ok {
				continue
			}
			var wet, dry []float64
			for _, y := range v.Fit.ByYear {
				wet, dry = append(wet, y.WetH), append(dry, y.DryD)
			}
			if i == 0 {
				d.wetH = oneInTen(wet)
			}
			d.dryD = append(d.dryD, oneInTen(dry))
		}
		all = append(all, d)
	}
	return all
}

// homeStations are those of the first, second and third quartile of yearly rain
// among the stations of a state, and of its driest tenth.
func homeStations(state string) []climate.Station {
	var all []climate.Station
	for _, s := range climate.Stations() {
		if s.State == state {
			all = append(all, s)
		}
	}
	rain := func(s climate.Station) (mm float64) {
		for _, m := range s.Months {
			mm += m.RainMM(30)
		}
		return mm
	}
	slices.SortFunc(all, func(a, b climate.Station) int { return cmp.Compare(rain(a), rain(b)) })
	if len(all) < 4 {
		return all[:min(1, len(all))]
	}
	return []climate.Station{all[len(all)/4], all[len(all)/2], all[3*len(all)/4], all[len(all)/10]}
}

// writeHomes works out the drought of unwatered ground in every state, by depth of
// roots: the one-year-in-ten on the rim of an ordinary bed, the middle of the
// quartiles and the longest of homeStations; and the coldest night of one year in ten
// at the middle of the quartiles.
func writeHomes(file string) error {
	out, err := os.Create(file)
	if err != nil {
		return err
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write(slices.Concat([]string{"state", "stations"}, dryColumns("dry"), dryColumns("driest"), []string{"cold_c"}))
	for _, state := range states() {
		dry := make([][]float64, len(rootDepths()))
		var ids []string
		var cold []float64
		for _, s := range homeStations(state) {
			e, err := exposedAt(climate.SpotAt(s.LatDeg, s.LonDeg), s.ID, "20 mm/h")
			if err != nil {
				return fmt.Errorf("%s: %w", s.ID, err)
			}
			coldest := slices.Clone(e.MinC)
			slices.Sort(coldest)
			cold = append(cold, coldest[len(coldest)/10])
			for _, d := range dosesOf(state, "20 mm/h", e) {
				if d.zone == "rim" {
					ids = append(ids, s.ID)
					for i := range dry {
						dry[i] = append(dry[i], d.dryD[i])
					}
				}
			}
		}
		if len(ids) > 0 {
			var middle, longest []string
			for _, of := range dry {
				longest = append(longest, number(slices.Max(of)))
				quartiles := of[:min(3, len(of))]
				slices.Sort(quartiles)
				middle = append(middle, number(quartiles[len(quartiles)/2]))
			}
			cold = cold[:min(3, len(cold))]
			slices.Sort(cold)
			w.Write(slices.Concat([]string{state, strings.Join(ids, " ")}, middle, longest, []string{number(cold[len(cold)/2])}))
		}
		w.Flush()
	}
	return w.Error()
}

func states() []string {
	return strings.Fields("AK AL AR AZ CA CO CT DC DE FL GA HI IA ID IL IN KS KY LA MA MD ME MI MN MO MS MT NC ND NE NH NJ NM NV NY OH OK OR PA RI SC SD TN TX UT VA VT WA WI WV WY")
}

func dryColumns(kind string) (names []string) {
	for _, r := range rootDepths() {
		names = append(names, fmt.Sprintf("%s_d_%g", kind, r))
	}
	return names
}

func oneInTen(values []float64) float64 {
	slices.Sort(values)
	return values[int(math.Ceil(0.9*float64(len(values))))-1]
}

// writeDoses runs every lot, which takes a minute or two.
func writeDoses(file string) error {
	out, err := os.Create(file)
	if err != nil {
		return err
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write(append([]string{"place", "soil", "zone", "rain_mm", "wet_h"}, dryColumns("dry")...))
	for _, t := range towns() {
		for _, soil := range soils() {
			e, err := exposed(t[1], soil)
			if err != nil {
				return fmt.Errorf("%s: %w", t[1], err)
			}
			for _, d := range dosesOf(t[0], soil, e) {
				cells := []string{d.place, d.soil, d.zone, number(d.rainMM), number(d.wetH)}
				for _, v := range d.dryD {
					cells = append(cells, number(v))
				}
				w.Write(cells)
			}
		}
		w.Flush()
	}
	return w.Error()
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
