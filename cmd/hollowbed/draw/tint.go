package draw

import "math"

// tints were searched for: any two keep apart to eyes that see colours otherwise, the
// four steps of lightness in grey, and dark letters can be read on all.
func tints() [12]string {
	return [12]string{
		"#9f93a3", "#539be8", "#7ea074",
		"#49c89f", "#92b4ee", "#e2a865",
		"#f3c4cf", "#97e1a2", "#bfd1f4",
		"#f9edd4", "#a2fef9", "#d2fba8",
	}
}

// perStep is how many tints are of one lightness.
const perStep = 3

// Tints gives each species its fill, its own for up to twelve kinds. Kinds that touch
// differ, in lightness if they can, those of one form before others.
func Tints(species []Species, plants []Plant) []string {
	touch := contacts(species, plants)
	all := tints()
	of := make([]int, len(species))
	for i := range of {
		of[i] = (i%4*perStep + i/4) % len(all)
	}
	shared := 1.0 // what two kinds of one tint cost: never while there are tints left
	if len(species) <= len(all) {
		shared = math.Inf(1)
	}
	cost := func(i int) float64 {
		sum := 0.0
		for k := range of {
			if k == i {
				continue
			}
			near := float64(touch[i][k])
			switch {
			case of[i] == of[k]:
				sum += shared + 1000*near
			case of[i]/perStep == of[k]/perStep && formWord(species[i].Form) == formWord(species[k].Form):
				sum += 4 * near
			case of[i]/perStep == of[k]/perStep:
				sum += near
			}
		}
		return sum
	}
	for better := true; better; {
		better = false
		for i := range of {
			was, least := of[i], cost(i)
			for c := range all { // a tint that helps
				if of[i] = c; cost(i) < least {
					was, least, better = c, cost(i), true
				}
			}
			of[i] = was
			for k := range i { // or a change of places
				before := cost(i) + cost(k)
				of[i], of[k] = of[k], of[i]
				if cost(i)+cost(k) < before {
					better = true
				} else {
					of[i], of[k] = of[k], of[i]
				}
			}
		}
	}
	out := make([]string, len(species))
	for i, c := range of {
		out[i] = all[c]
	}
	return out
}

// contacts counts the plants of each pair of species that stand side by side: no
// farther apart than one and a half times what would let them touch.
func contacts(species []Species, plants []Plant) [][]int {
	out := make([][]int, len(species))
	for i := range out {
		out[i] = make([]int, len(species))
	}
	for i, a := range plants {
		for _, b := range plants[:i] {
			reach := 0.75 * (math.Max(0, species[a.Species].SpreadM) + math.Max(0, species[b.Species].SpreadM))
			if a.Species != b.Species && dist(a.At, b.At) <= reach {
				out[a.Species][b.Species]++
				out[b.Species][a.Species]++
			}
		}
	}
	return out
}
