package moves_test

import (
	"fmt"
	"math"

	"hollowbed/plants/moves"
)

// Three plants along a slope: the first stands too dry and the second too wet,
// so they trade places. The third could do a little better at the free place,
// but by less than the move would harm it.
func ExampleSolve() {
	never := math.Inf(1)
	p := moves.Problem{
		Places: []moves.Place{{Name: "rim"}, {Name: "bottom"}, {Name: "slope"}, {Name: "free"}},
		Plants: []moves.Plant{
			{Stake: "OTT1", At: 0, Disturb: 0.06, GiveUp: never},
			{Stake: "EMB1", At: 1, Disturb: 0.06, GiveUp: never},
			{Stake: "TAR1", At: 2, Disturb: 0.06, GiveUp: never},
		},
		Loss: []float64{ // of each plant at rim, bottom, slope and the free place
			0.60, 0.10, 0.30, 0.55,
			0.15, 0.70, 0.40, 0.60,
			0.50, 0.30, 0.12, 0.08,
		},
	}
	plan, err := moves.Solve(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, m := range plan.Moves {
		fmt.Printf("%s: %s %s -> %s\n", p.Plants[i].Stake, m.Action, p.Places[m.From].Name, p.Places[m.To].Name)
	}
	fmt.Printf("cost %.2f, doing nothing %.2f, proved: %v\n", plan.Objective, plan.Nothing, p.Prove(plan) == nil)
	// Output:
	// OTT1: swap rim -> bottom
	// EMB1: swap bottom -> rim
	// TAR1: stay slope -> slope
	// cost 0.49, doing nothing 1.42, proved: true
}
