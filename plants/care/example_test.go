package care_test

import (
	"fmt"
	"time"

	"hollowbed/plants/care"
	"hollowbed/plants/catalogue"
	"hollowbed/zones/basin"
	"hollowbed/zones/water"
)

// A rim of 6 m2 in a place where it never rains and plants grow all year, with
// 30 plants of a made-up species set out on 1 May.
func Example() {
	days := 3 * 365
	weather := &care.Weather{
		Run:   &water.Result{Bands: []basin.Band{{Zone: basin.Rim, AreaM2: 6, TopMM: 50}}, OfferedMM: [][]float64{make([]float64, days)}, DemandMM: make([]float64, days)},
		Start: time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC), RainMM: make([]float64, days), Growing: make([]bool, days), Lost: make([]bool, days),
		GrowingDaysAYear: 365.25, Known: days,
	}
	for d := range days {
		weather.Run.DemandMM[d], weather.Growing[d] = 3, true
	}
	bed := &care.Bed{Weather: weather, Setting: care.Default(), Ground: water.Ground{MixFC: 0.25, MixWP: 0.12, MixDepthMM: 400, NativeFC: 0.25, NativeWP: 0.12}}
	wisp := catalogue.Plant{ID: "low-brindlewisp", DryD: 30, WetH: 96, RootCM: 40, SpreadCM: 45}
	stand := care.Stand{Zone: basin.Rim, AreaM2: 6, Groups: []care.Group{{Plant: wisp, Count: 30}}}

	plans, err := bed.Plans([]care.Stand{stand}, care.MonthDay{Month: time.May, Day: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	plan := plans[0]
	year := plan.Years[plan.Typical]
	for _, i := range []int{0, 1, len(year.Waterings) - 1} {
		w := year.Waterings[i]
		fmt.Printf("%s: %.0f L, %.0f min, roots %.0f cm deep\n", w.Date.Format("2 Jan 2006"), w.Litres, w.Minutes, w.RootCM)
	}
	fmt.Printf("%d visits, never less than %d days apart once settled; an inch a week would take %.0f L more\n", len(year.Waterings), plan.GapDays[0], plan.Saved(care.InchAWeek))
	// Output:
	// 7 May 2021: 45 L, 3 min, roots 15 cm deep
	// 13 May 2021: 46 L, 3 min, roots 16 cm deep
	// 25 Mar 2022: 195 L, 13 min, roots 37 cm deep
	// 42 visits, never less than 7 days apart once settled; an inch a week would take 1802 L more
}
