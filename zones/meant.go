package zones

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// What people say in words of their own is asked back with the word or figure
// that a file takes; nothing is taken for what it does not say. Each of these
// returns what goes behind a message, "" where it has nothing to say.

// soilMeant knows soils as people call them; where several textures go by one word, all
// are named. Texture by feel: USDA (Thien 1979), from memory.
func soilMeant(text string) string {
	var kept []string
	heavy := false
	for word := range strings.FieldsSeq(strings.ToLower(text)) {
		switch word {
		case "heavy", "stiff", "sticky", "dense", "hard", "solid", "thick", "red", "yellow", "grey", "gray", "blue":
			heavy = true
		case "soil", "ground", "earth", "dirt", "very", "pretty", "mostly", "really", "quite":
		default:
			kept = append(kept, word)
		}
	}
	switch words := strings.Join(kept, " "); {
	case heavy && words == "loam":
		return didYouMean("clay loam")
	case slices.Contains(Textures(), words) && words != "clay":
		return didYouMean(words)
	case words == "clay", words == "clayey", words == "gumbo", words == "adobe", words == "" && heavy:
		return didYouMean("clay")
	case words == "sandy", words == "light":
		return didYouMean("sandy loam, loamy sand or sand") + " Wet sand stays in no ball; loamy sand does, but makes no ribbon"
	case words == "silty":
		return didYouMean("silt loam")
	case words == "loamy", words == "garden", words == "good", words == "average", words == "normal":
		return didYouMean("loam")
	case oneOfWords(words, "gravel", "gravelly", "stony", "rocky", "rock", "stones", "chalk", "peat", "peaty", "muck", "hardpan", "caliche", "fill", "rubble"):
		return "; no texture tells how fast that takes water: expected a rate from a soak test, such as 0.5 in/h or 12 mm/h"
	case oneOfWords(words, "unknown", "?", "don't know", "dont know", "do not know", "not sure", "no idea"):
		return "; a soak test tells; until then take clay loam, or clay if water stands there for days"
	}
	return ""
}

func oneOfWords(s string, words ...string) bool { return slices.Contains(words, s) }

func didYouMean(what string) string { return "; did you mean " + what + "?" }

// sunMeant knows the words of plant labels. Common practice, no source: full sun
// from 6 h of direct sun a day, part shade from 3 h, shade below that.
func sunMeant(text string) string {
	if v, ok := plainNumber(strings.TrimSpace(text)); ok && v >= 0 && v <= 24 {
		return didYouMean(plain(v) + " h")
	}
	said := strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == ' ' || r == '-' }), " ")
	hours, until := "", ""
	switch said {
	case "full sun", "sun", "sunny", "all day", "open":
		hours, until = "6 h or more", "6 h"
	case "part shade", "partial shade", "part sun", "partial sun", "half shade", "semi shade", "half sun", "light shade", "dappled shade", "dappled", "morning sun", "afternoon sun":
		hours, until = "3 h to 6 h", "4 h"
	case "shade", "shady", "full shade", "deep shade", "heavy shade":
		hours, until = "under 3 h", "2 h"
	default:
		return ""
	}
	return fmt.Sprintf("; %s is %s of direct sun a day: count the hours, or write %s until then", said, hours, until)
}

// shareMeant knows shares without their sign.
func shareMeant(text string) string {
	said := strings.ToLower(strings.TrimSpace(text))
	for percent, words := range map[string][]string{
		"100 %": {"all", "whole", "all of it", "everything"}, "50 %": {"half", "a half", "one half"}, "25 %": {"quarter", "a quarter", "one quarter"},
		"33 %": {"third", "a third", "one third"}, "67 %": {"two thirds"}, "75 %": {"three quarters"},
	} {
		if slices.Contains(words, said) {
			return didYouMean(percent)
		}
	}
	v, _, rest, ok := cutNumber(said)
	percent := func(share float64) string { return plain(math.Round(share*10)/10) + " %" }
	switch {
	case !ok || rest != "" || v < 0 || v > 100:
		return ""
	case strings.Contains(said, "/"):
		return didYouMean(percent(100 * v))
	case v > 0 && v <= 1:
		return didYouMean(percent(100*v) + " or " + plain(v) + " %")
	}
	return didYouMean(plain(v) + " %")
}

// shapeMeant knows the shapes of beds that have other names here.
func shapeMeant(text string) string {
	said := strings.ToLower(text)
	for _, end := range []string{"shaped", "shape", "-", " "} {
		said = strings.TrimSuffix(said, end)
	}
	const corners = "; expected polygon for it, with its corners under points, in order"
	switch said {
	case "l", "ell", "an l":
		return corners + "; hollowbed start DIR --shape L asks for lengths and writes them"
	case "kidney", "bean":
		return corners + "; hollowbed start DIR --shape kidney asks for lengths and writes them"
	case "round", "circle", "circular", "ellipse", "elliptical", "egg":
		return didYouMean("oval")
	case "square", "rectangular", "box", "strip", "oblong":
		return didYouMean("rectangle")
	case "triangle", "triangular", "irregular", "freeform", "free form", "free", "curved", "teardrop", "crescent":
		return corners
	}
	return ""
}
