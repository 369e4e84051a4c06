package plants

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants/catalogue"
	"hollowbed/zones/site"
)

// reasons are all that a list gives as reasons: why plants are shut out, why ground
// stays bare, and what it notes.
func reasons(p *Planting) string {
	out := strings.Join(p.Notes, "\n")
	for _, z := range p.Zones {
		out += "\n" + z.Zone + " bare: " + z.Bare + "."
		if z.Refusal != nil {
			out += fmt.Sprintf("\n%s refused %d", z.Zone, len(z.Refusal.Ruled))
			for _, r := range z.Refusal.Ruled {
				out += fmt.Sprintf("\n%s: %d %s %s.", z.Zone, r.Count, r.Bar, r.Limit)
			}
		}
	}
	return out
}

// Each reason is told where it is so and not where it is not: the second lot, or
// the second plants, lack what makes it so.
func TestReasonsAreTrue(t *testing.T) {
	wishes := func(s string) map[string]string { return map[string]string{"wishes": s} }
	sun := func(h string) map[string]string {
		return map[string]string{"sun": "{bottom: " + h + ", slope: " + h + ", rim: " + h + "}", "wishes": "{yearly_risk_max: 60 %, smallest_group: 1}"}
	}
	priceless := with(hardy("a"), func(p *catalogue.Plant) { p.Price = math.NaN() })
	bright := with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH, p.LowestC = 5, -16.5 })
	dim := with(hardy("a"), func(p *catalogue.Plant) { p.SunMinH, p.LowestC = 7.5, -18 })
	wide := with(hardy("a"), func(p *catalogue.Plant) { p.SpreadCM = 900 })
	weak := with(hardy("a"), func(p *catalogue.Plant) { p.DryD = 1 })
	toxic := with(hardy("a"), func(p *catalogue.Plant) { p.Toxic = []string{"pets"} })
	real := func(state string) catalogue.Plant {
		return with(hardy("a"), func(p *catalogue.Plant) {
			p.NativeTo, p.Wild = []string{state}, &catalogue.Wild{State: "WI", Sold: "routinely", RainMaxMM: 1e4, Soils: "cmf", PHMax: 14}
		})
	}
	islander := real("HI")
	islander.Wild.State = "HI"
	warm := func(rec *site.Record) *site.Record {
		for i := range rec.Days {
			rec.Days[i].TMinC, rec.Days[i].TMaxC, rec.Days[i].ET0MM = math.NaN(), math.NaN(), 3
		}
		return rec
	}
	for name, c := range map[string]struct {
		said           string
		yes, no        map[string]string
		plant, noPlant catalogue.Plant
		record         func(*site.Record) *site.Record
	}{
		"sun shuts out what also died of cold once": {"rim: 1 sun too little sun.", sun("2 h"), sun("6 h"), bright, bright, nil},
		"risk shuts out what is short of sun":       {"rim: 1 risk too cold.", nil, wishes("{yearly_risk_max: 60 %, smallest_group: 1}"), dim, dim, nil},
		"and not the sun":                           {"rim: 1 sun too little sun.", sun("2 h"), nil, dim, dim, nil},
		"price not known":                           {"rim: 1 price not known .", wishes("{budget: 900}"), nil, priceless, priceless, nil},
		"wanted, and a wish bars it":                {"Test a is wanted, but left out: its price is not known", wishes("{budget: 900, wanted: [a]}"), wishes("{wanted: [a]}"), priceless, priceless, nil},
		"wanted, but poisonous":                     {"Test a is wanted, but left out: poisonous to pets", wishes("{no_toxic_to: [pets], wanted: [a]}"), wishes("{wanted: [a]}"), toxic, toxic, nil},
		"wanted, and nothing suits it":              {"Test a is wanted, but no zone suits it: yearly risk", wishes("{wanted: [a]}"), wishes("{wanted: [a]}"), weak, hardy("a"), nil},
		"none of the lot":                           {"of 1 real plants 1 were left out at once: 1 not native here", wishes("{native_to: [WI]}"), wishes("{native_to: [WI]}"), real("CA"), real("WI"), nil},
		"Hawaii":                                    {"Hawaii: the source calls many plants of the mainland native there", nil, nil, islander, real("HI"), nil},
		"refused without a count":                   {"rim refused 0", wishes("{native_to: [WI]}"), nil, real("CA"), weak, nil},
		"too wide":                                  {"rim bare: all that would live here grows too wide for it.", nil, nil, wide, hardy("a"), nil},
		"at the limit":                              {"rim bare: the one species that fits is at the 20 % limit", wishes("{share_cap: 20 %, smallest_group: 1}"), wishes("{share_cap: 100 %, smallest_group: 1}"), hardy("a"), hardy("a"), nil},
		"no temperatures":                           {"the record has no temperatures", nil, nil, hardy("a"), hardy("a"), warm},
		"months of the north":                       {"half a year out here", map[string]string{"site": "{latitude: -33, time_zone: Australia/Sydney}"}, nil, hardy("a"), hardy("a"), nil},
	} {
		rec := someYears(6)
		if c.record != nil {
			rec = c.record(rec)
		}
		p, err := Choose(NewJudge(expose(t, c.yes, rec)), tableOf(c.plant))
		require.NoError(t, err, name)
		assert.Contains(t, reasons(p), c.said, name)
		p, err = Choose(NewJudge(expose(t, c.no, someYears(6))), tableOf(c.noPlant))
		require.NoError(t, err, name)
		assert.NotContains(t, reasons(p), c.said, name)
	}
}
