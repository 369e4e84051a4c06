package report

import "hollowbed/plants/season"

// accidentWords say what happened to a plant.
func accidentWords(s season.Sign) string {
	switch s {
	case "silted":
		return "buried in silt"
	case "heaved":
		return "heaved by frost"
	case "spotted":
		return "disease"
	}
	return string(s)
}

// accidentHelp is what to do now for a plant to which something happened. Common
// practice, no source.
func accidentHelp(s season.Sign) string {
	switch s {
	case "washed out":
		return "Press it back, cover its roots with soil, and lay stones where the water runs in. It need not move."
	case "silted":
		return "Clear the silt off its crown, down to the old soil, and see where it washes in from. It need not move."
	case "heaved":
		return "Press it back as soon as the ground has thawed, water it in, and mulch it before the next frost. It need not move."
	case "trampled":
		return "Cut off what is broken, loosen the soil round it, and keep feet off with stakes or a low edge. It need not move."
	case "eaten":
		return "Fence or net it against deer and rabbits; gather slugs and caterpillars in the evening. It sprouts again where its crown is whole. It need not move."
	case "spotted":
		return "Cut off the leaves that have it and put them in the bin, water the ground and not the leaves. Ask your extension office before you spray anything: the bed drains. It need not move."
	case "herbicide":
		return "Rinse it if that was today, then wait: what grows next is often sound. Keep sprays off the bed, which drains. It need not move."
	case "planted too deep":
		return "Lift it with its soil while it is at rest, set its crown level with the ground where it is, and keep mulch off the crown."
	case "pot-bound":
		return "Lift it while it is at rest, cut or tease apart the roots that circle, set it back where it is and water it in."
	case "spread too far":
		return "Dig out what has run too far and cut it back before it seeds; ask your extension office whether it is a listed weed. It need not move."
	}
	return ""
}
