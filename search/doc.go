// Package search finds plants for people: by free words, by site condition, or
// by both in one query.
//
// Input is the plant table (a slice of catalogue.Plant), an optional table of
// synonyms of the trade, and a query. Output is a Result: how many plants
// match, the best of them with the reasons why, counts by facet, and, when
// nothing matches, what stood in the way and which plant came nearest.
//
// # Queries
//
// A query is one line of words and conditions in any order:
//
//	blue july                     plants that have both words (stems count: "grasses" finds "grass")
//	"wet feet"                    the two words side by side, or what the trade says instead
//	-thorny                       without that word
//	wet>=48                       bears 48 hours of standing water or saturated soil
//	wet:2d                        the same: on wet, pond, dry and cold the colon reads "bears"
//	pond>=6in                     bears standing water 6 inches deep
//	dry:3wk                       bears three weeks without water
//	cold:-20                      survives -20 deg C (cold:-4f in Fahrenheit)
//	sun:6                         takes a place with 6 hours of sun: sun_min_h <= 6 <= sun_max_h
//	sun>=6                        takes some number of hours from 6 upwards: sun_max_h >= 6
//	height<3ft                    lower than 3 feet
//	height:20..60                 from 20 to 60 cm, ends included
//	bloom:july  bloom:may..june   flowers in July; in May or June
//	colour:blue,violet            flowers in one of the colours
//	zone:bottom native:east-fen   the grower's zone, the region it is native to
//	form:shrub price<=9           form, price
//	toxic:pets  toxic  -toxic     harms pets; harms anyone; known to harm nobody
//	evergreen   -spreads          known evergreen; known to stay where it is
//	under 3 ft, 8 inches of water height<3ft, pond:8in; also widths, weeks without rain, hours of sun, prices
//	june to august, blue or white bloom:june..august, colour:blue,white
//	not red, without thorns       without what the words stand for
//	not toxic, safe for dogs      known to harm nobody
//	not invasive                  known neither to run nor to seed itself about
//
// A number without a unit is in the unit of the plant table: hours for sun and
// wet, days for dry, millimetres for pond, centimetres for height and spread,
// degrees Celsius for cold. With a unit it may be: mm, cm, m, in, ft; h, d, wk
// (or w); c, f. Conditions compare with : = < <= > >= or a range a..b. The unit
// of the upper end of a range holds for a lower end without one: height:1..2ft
// is from 1 to 2 feet; a lower end with a unit wants one on the upper end too.
// Spaces may stand round a comparison, round the dots of a range and before a
// unit. A comma in a list of words means "or", and numbers take none; two
// conditions mean "and". A minus before a condition turns
// it round: the plant is known not to meet it. A value with a space in it goes
// in quotes: native:"low coast". Months may be shortened to three letters or
// given as numbers. The names of the columns of the table (wet_h, native_to,
// ...) are understood as field names too.
//
// Of harm and of plants that run wild the opposite answer could hurt somebody: a
// line in which "not" could govern them or something else is refused, and the
// error shows both ways of writing it.
//
// # What counts as a match
//
// Conditions are exact. An unknown value meets no condition, turned round or
// not; Result.Unknown says how many plants were left out for that reason.
//
// Words are ranked by bleve. The last word, and any that no plant has, also finds
// names that begin with it. A hit has all words; plants with some of them are
// in Result.Also, apart from the count, and are hits only if no plant has all,
// which Result.Words says. A
// word that no plant has is read as the nearest word that one has, and
// Result.Notes says so; if there is none near, the word is left out and named.
// A phrase in quotes must be there. Notes, names and tags are English and
// stemmed; scientific names are not. Accents and case make no difference.
//
// # What it leaves out
//
// search never decides whether a plant fits a place: Query.Survives lets the
// caller pass in the yearly risk worked out elsewhere. It reads no files but
// its own cache.
package search
