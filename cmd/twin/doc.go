// Command twin runs the experiment that shows what the season's notes and the
// relocation plan are worth: made-up gardens whose truth is known, lived through
// under several policies that meet the same weather and the same luck.
//
// Input is a madeUp (the figures of the made-up world) and the table of signs as
// the program ships it; output is a result: survival under each policy with
// intervals, how often causes were stated right, whether stated chances came
// true, how many moves were needless. The same seed gives the same bytes on any
// number of cores.
//
// The policies differ only in what moves between seasons:
//
//	nothing       no plant
//	random        as many plants as ours, to places drawn at random
//	labels        those that struggle, to the zone their label names
//	catalogue     the plan by the catalogue's limits alone, nothing learned
//	ours alone    the plan, learned from each garden's own notes
//	ours          the plan, learned from the notes of all gardens
//	kind oracle   the plan by the true limits of species and the true ground
//	oracle        the plan by the true limits of every single plant and the true
//	              ground
//
// No policy knows the weather to come. The oracles also know what a move truly
// costs and what sun a plant truly needs. Dead plants' places stay bare under
// every policy and may be moved to. With --rivals nothing and ours are lived beside
// replanting what died and watering in drought, to see what moves add to these.
//
// It leaves out what the balance itself leaves out, since one balance makes both
// what is believed and what is true.
package main
