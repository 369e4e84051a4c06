package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"hollowbed/plants/season"
)

// moveCost is what the work of a move is worth, in the currency of prices: 10 minutes,
// those of a grown plant of 45 cm in the demo garden, at 20 an hour.
const moveCost = 10.0 / 60 * 20

// margins lives a world under ours for plants of several prices, each with moves that
// have to gain more than so many times their own work beside it, and prints what a
// garden gains over nothing in money: plants alive at the end at their price, less the
// work of the moves. The planner knows what share of those that struggle die. The same weather and the same luck for all.
func margins(t madeUp, table *season.Table, out io.Writer) error {
	w, err := newWorld(t, table)
	if err != nil {
		return err
	}
	if err := w.live(byNothing, rivals{}); err != nil {
		return err
	}
	alive := func(policy string) (sum float64) {
		for _, g := range w.tallies(policy) {
			sum += g.alive
		}
		return sum
	}
	nothing := alive(byNothing)
	tab := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(out, "%d made-up gardens, %d seasons, seed %d: gain over nothing in money a garden (moves a garden).\n\n", t.Gardens, t.Seasons, t.Seed)
	prices := []float64{10, 20, 40}
	fmt.Fprint(tab, "margin\t")
	for _, price := range prices {
		fmt.Fprintf(tab, "price %.0f\t", price)
	}
	fmt.Fprintln(tab)
	for _, margin := range []float64{0, 0.25, 0.5, 1, 2} {
		fmt.Fprintf(tab, "%.2f\t", margin)
		for _, price := range prices {
			w.stated.work = (1 + margin) * moveCost / (t.Dies * price)
			if err := w.live(byOurs, rivals{}); err != nil {
				return err
			}
			moves := sumOf(w.tallies(byOurs)).moves
			gain := price*(alive(byOurs)-nothing) - moveCost*moves
			fmt.Fprintf(tab, "%+.2f (%.1f)\t", gain/float64(t.Gardens), moves/float64(t.Gardens))
		}
		fmt.Fprintln(tab)
	}
	return tab.Flush()
}
