package search_test

import (
	"fmt"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/search"
)

const table = `id,vernacularName,zones,sun_min_h,sun_max_h,wet_h,dry_d,spread_cm,flower_from,flower_to,flower_colour,notes
amber-fenwort,Amber Fenwort,bottom,4,12,96,10,40,6,8,yellow,Likes wet feet and feeds the bees.
blue-tarnwhisk,Blue Tarnwhisk,bottom|slope,5,12,60,20,35,7,9,blue,Bees come from far.
dry-marlcap,Dry Marlcap,rim,6,14,6,45,30,5,6,blue,For hot gravel.
`

func Example() {
	plants, err := catalogue.Read("plants.csv", strings.NewReader(table))
	if err != nil {
		fmt.Println(err)
		return
	}
	index, err := search.New(plants.Plants, search.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer index.Close()

	for _, line := range []string{"wet>=48 bees", "colour:blue wet:3d", "bleu"} {
		query, err := search.Parse(line)
		if err != nil {
			fmt.Println(err)
			continue
		}
		result, err := index.Find(query)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s: %d\n", line, result.Total)
		for _, note := range result.Notes {
			fmt.Println("  " + note)
		}
		for _, hit := range result.Hits {
			fmt.Println("  " + hit.VernacularName)
			for _, why := range hit.Why {
				fmt.Println("    " + why.String())
			}
		}
		if result.NoHit != nil {
			for _, e := range result.NoHit.Excluded {
				fmt.Println("  " + e.String())
			}
			near := result.NoHit.Nearest
			fmt.Printf("  nearest is %s: %s\n", near.VernacularName, near.Missed[0])
		}
	}
	// Output:
	// wet>=48 bees: 2
	//   Blue Tarnwhisk
	//     tolerates 60 h wet, you asked 48 h
	//     "bees" in notes: «Bees» come from far.
	//   Amber Fenwort
	//     tolerates 96 h wet, you asked 48 h
	//     "bees" in notes: Likes wet feet and feeds the «bees».
	// colour:blue wet:3d: 0
	//   colour:blue shuts out 1; without it: 1
	//   wet:3d shuts out 2; without it: 2
	//   nearest is Blue Tarnwhisk: tolerates 60 h wet, you asked 72 h: 12 h off
	// bleu: 2
	//   no plant has the word "bleu"; read as "blue"
	//   Blue Tarnwhisk
	//     "bleu" reads "blue" in vernacularName: «Blue» Tarnwhisk
	//     "bleu" reads "blue" in tags: «blue»
	//   Dry Marlcap
	//     "bleu" reads "blue" in tags: «blue»
}

func ExampleParse() {
	query, err := search.Parse(`sun>=6 height<3ft "wet feet" -toxic`)
	fmt.Println(query, err)
	_, err = search.Parse("hieght<3ft zone:top")
	fmt.Println(err)
	// Output:
	// "wet feet" sun>=6 height<91.44 -toxic <nil>
	// query:1:1: field: "hieght": did you mean height? want a field: zone, form, sun, wet, pond, dry, cold, height, spread, bloom, colour, native, evergreen, toxic, spreads, price; or put it in quotes
	// query:1:17: zone: "top": want bottom, slope, rim
}
