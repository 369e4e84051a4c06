package list_test

import (
	"fmt"
	"math"

	"hollowbed/plants/list"
)

// A bottom and a rim, three invented species, at least three of each.
func ExampleSolve() {
	p := list.Problem{
		Species: []list.Species{
			{ID: "marsh-lantern", AreaM2: list.AreaPerPlantM2(45), Price: 6, Bloom: 1<<5 | 1<<6, Native: true},
			{ID: "rim-thimble", AreaM2: list.AreaPerPlantM2(30), Price: 4, Bloom: 1<<3 | 1<<4},
			{ID: "dusk-quill", AreaM2: list.AreaPerPlantM2(60), Price: 9, Bloom: 1<<7 | 1<<8},
		},
		Zones: []list.Zone{{Name: "bottom", AreaM2: 3}, {Name: "rim", AreaM2: 2}},
		Candidates: []list.Candidate{
			{Species: 0, Zone: 0, Survival: 0.97}, {Species: 2, Zone: 0, Survival: 0.90},
			{Species: 1, Zone: 1, Survival: 0.95}, {Species: 2, Zone: 1, Survival: 0.80},
		},
		ShareCap: 0.6, SmallestGroup: 3, Budget: math.Inf(1),
		BloomWeight: 0.3, VarietyWeight: 0.2, NativeWeight: 0.1, BloomMonths: 0b1_1111_1000,
		Seed: 1,
	}
	res, err := list.Solve(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range res.Lines {
		c := p.Candidates[l.Candidate]
		fmt.Println(p.Zones[c.Zone].Name, p.Species[c.Species].ID, l.Count)
	}
	fmt.Printf("cost %.0f, within %.1f %% of the best: %s\n", res.Cost, 100*res.Gap, res.Stopped)
	for i, why := range res.WhyEmpty {
		fmt.Printf("%s: %.0f %% planted, %v\n", p.Zones[i].Name, 100*res.Filled[i], why)
	}
	// Output:
	// bottom marsh-lantern 8
	// bottom dusk-quill 5
	// rim rim-thimble 13
	// rim dusk-quill 3
	// cost 172, within 0.0 % of the best: gap under 0.1 %
	// bottom: 99 % planted, full
	// rim: 97 % planted, full
}
