package catalogue_test

import (
	"fmt"
	"strings"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/table"
)

func ExampleRead() {
	table := `id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm
low-brindlewisp,Low Brindlewisp,bottom|slope,4,96,12,30
`
	c, err := catalogue.Read("plants.csv", strings.NewReader(table))
	if err != nil {
		fmt.Println(err)
		return
	}
	p, _ := c.ByID("low-brindlewisp")
	fmt.Println(p.VernacularName, "bears", p.WetH, "wet hours")
	// Output: Low Brindlewisp bears 96 wet hours
}

func ExampleRead_faults() {
	table := `id,vernacularName,zones,sun_min_h,wet_h,dry_d,spread_cm
low-brindlewisp,Low Brindlewisp,botom,4,"1,5",12,wide
`
	_, err := catalogue.Read("plants.csv", strings.NewReader(table))
	fmt.Println(err)
	// Output:
	// plants.csv:2:33: zones: "botom": want any of bottom, slope, rim; did you mean bottom?
	// plants.csv:2:41: wet_h: "1,5": want a number of hours with a point: 1.5
	// plants.csv:2:50: spread_cm: "wide": want a number of centimetres
}

func ExampleImport() {
	table, err := table.Read("nursery.csv", strings.NewReader("Plant,Height (ft),Flooding\nTall Tollow,6,good\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := catalogue.ReadMap("nursery.yaml", strings.NewReader(`
source: list of a nursery in Quillmere
columns:
  id: {from: Plant}
  vernacularName: {from: Plant}
  height_cm: {from: Height (ft), unit: ft}
  wet_h: {from: Flooding, basis: "assumed, no source", classes: {good: 72, poor: 6}}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	plants, report, err := catalogue.Import(table, m)
	if err != nil {
		fmt.Println(err)
		return
	}
	p := plants[0]
	fmt.Println(report.Passed, p.ID, p.HeightCM, p.WetH, p.Assumed)
	fmt.Println(p.Source)
	fmt.Println(report.Bases[0])
	// Output:
	// 1 tall-tollow 182.9 72 [wet_h]
	// list of a nursery in Quillmere; assumed by nursery.yaml [1]
	// [1] wet_h from Flooding (good 72, poor 6): assumed, no source
}
