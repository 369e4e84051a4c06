package season

import (
	"cmp"
	"math"
	"slices"
	"time"

	"hollowbed/plants/fit"
)

// Diagnosis weighs the causes of how one plant did in one season.
type Diagnosis struct {
	Case     Case
	Chance   [CauseCount]float64 // by Causes; adds up to 1
	Top      Cause               // the likeliest; the first of those alike
	TopP     float64
	Also     Cause      // a second trouble, where the signs are of two; else ""
	Evidence []Evidence // for Top, strongest first, at most three
	Next     *look      // what would settle it best; nil if nothing is left to look for
	Wait     bool       // nothing to do yet: it is slow, or no cause is over one half, too wet and too deep taken together
	LookOn   time.Time  // when to look again, if Wait
	Vigour   int        // on the last note that states it; Unstated if none does
	Accident Sign       // what happened to it, if that is the likeliest
	Rests    bool       // nothing was seen but what a plant at rest shows in good health too
}

// Of returns the chance of a cause.
func (d Diagnosis) Of(c Cause) float64 {
	causes := Causes()
	return d.Chance[slices.Index(causes[:], c)]
}

// Struggles says whether fine is less likely than trouble.
func (d Diagnosis) Struggles() bool { return d.Chance[atFine] < 0.5 }

// evidenceKind says what a piece of evidence is.
type evidenceKind string

// The kinds of evidence.
const (
	SignSeen   evidenceKind = "sign seen"
	SignAbsent evidenceKind = "sign looked for and not there"
	VigourSeen evidenceKind = "vigour"
	Met        evidenceKind = "what it met" // dose of a limit, or hours of sun
	Age        evidenceKind = "months since planting"
)

// Evidence is one piece of evidence for a cause.
type Evidence struct {
	Kind     evidenceKind
	Sign     Sign      // SignSeen, SignAbsent
	Vigour   int       // VigourSeen
	Limit    fit.Limit // Met
	Dose     dose      // Met by weather
	SunOffH  float64   // Met by sun: hours a day outside the range
	Months   float64   // Age
	LogRatio float64   // ln of its chance under the cause over that under the rest; for Met and Age against a plant and place that nothing is known of
}

// usualOdds is the odds of each cause for a plant of which nothing is known. Assumption.
const usualOdds = 0.1 / 0.9

// likeliest is the first of the causes whose chance is highest.
func likeliest(chance [CauseCount]float64) int {
	top := atFine
	for i, p := range chance {
		if p > chance[top] {
			top = i
		}
	}
	return top
}

// Diagnose weighs the causes of one case by Bayes: P(cause) = odds L / sum of odds L,
// odds by what the plant met and bears, L the chance of the notes. bearing is what is
// believed of the plant without these notes (Model.Unlearned, or Learned.Before), so that
// they do not count twice.
//
//	P(cause) = odds L / sum of odds L,  L chance of the notes under the cause
func (m Model) Diagnose(t *Table, c Case, bearing Bearing) Diagnosis {
	n := joined(c.Notes)
	rests := m.Witness > 1 && c.Rests && (len(n.Seen) > 0 || n.Vigour > 0)
	if rests {
		n = atRest(n)
	}
	t = m.witnessed(t, n)
	l, odds := t.chances(), m.seenOdds(c, n, m.prior(c, bearing))
	d := Diagnosis{Case: c, Chance: m.posterior(l, n, odds, -1), Vigour: lastVigour(c.Notes)}
	top := likeliest(d.Chance)
	d.Top, d.TopP = Causes()[top], d.Chance[top]
	d.Evidence = m.evidence(t, c, bearing, n, odds, top)
	d.Next = m.bestLook(t, l, n, odds)
	clear := max(d.TopP, d.Chance[atWet]+d.Chance[atDeep]) > 0.5 // too much water, whichever way
	d.Wait = !clear || d.Top == Slow
	if m.Witness > 1 && d.Top == Other {
		d.Accident = accident(n.Seen)
	}
	if m.Witness > 1 && !rests {
		d.Also, _ = m.also(l, n, odds, top)
	}
	d.Rests = rests && len(n.Seen) == 0
	d.Wait = d.Wait && d.Accident == "" || d.Rests
	if d.Wait && !n.Date.IsZero() {
		d.LookOn = n.Date.AddDate(0, 0, lookAgainDays)
	}
	return d
}

// lookAgainDays is after how long a plant shows whether it comes on. Common
// practice, no source: six weeks.
const lookAgainDays = 42

func lastVigour(notes []Note) int {
	v, at := Unstated, time.Time{}
	for _, n := range notes {
		stated := n.Vigour
		if slices.Contains(n.Seen, Dead) {
			stated = 0
		}
		if stated != Unstated && !n.Date.Before(at) {
			v, at = stated, n.Date
		}
	}
	return v
}

// posterior leaves one row of the table out, unless it is -1.
func (m Model) posterior(l *chances, n Note, odds [CauseCount]float64, without int) [CauseCount]float64 {
	logs := m.logLikelihood(l, n, without)
	for c := range logs {
		logs[c] += math.Log(odds[c])
	}
	return normalised(logs)
}

func normalised(logs [CauseCount]float64) [CauseCount]float64 {
	top, sum := slices.Max(logs[:]), 0.0
	var out [CauseCount]float64
	for c := range logs {
		out[c] = math.Exp(logs[c] - top)
		sum += out[c]
	}
	for c := range out {
		out[c] /= sum
	}
	return out
}

// mostEvidence is how many pieces of evidence are shown.
const mostEvidence = 3

// evidence lists what speaks most for a cause, by ln P(it | cause) - ln of its mean
// chance under the others, weighed without the notes.
func (m Model) evidence(t *Table, c Case, b Bearing, n Note, odds [CauseCount]float64, top int) []Evidence {
	rest := func(chance [CauseCount]float64) float64 {
		sum, all := 0.0, 0.0
		for k, w := range odds {
			if k != top {
				sum += w * chance[k]
				all += w
			}
		}
		return math.Log(chance[top]) - math.Log(sum/all)
	}
	var all []Evidence
	for _, r := range t.Rows {
		switch {
		case slices.Contains(n.Seen, r.Sign):
			all = append(all, Evidence{Kind: SignSeen, Sign: r.Sign, LogRatio: rest(r.Chance)})
		case slices.Contains(n.Absent, r.Sign):
			all = append(all, Evidence{Kind: SignAbsent, Sign: r.Sign, LogRatio: rest(complement(r.Chance))})
		}
	}
	if n.Vigour != Unstated {
		all = append(all, Evidence{Kind: VigourSeen, Vigour: n.Vigour, LogRatio: rest(t.Vigour[n.Vigour])})
	}
	all = append(all, m.met(c, b, odds, top)...)
	slices.SortStableFunc(all, func(a, b Evidence) int { return cmp.Compare(b.LogRatio, a.LogRatio) })
	all = slices.DeleteFunc(all, func(e Evidence) bool { return !(e.LogRatio > 0.05) })
	return all[:min(len(all), mostEvidence)]
}

func complement(chance [CauseCount]float64) [CauseCount]float64 {
	for k := range chance {
		chance[k] = 1 - chance[k]
	}
	return chance
}

// met is the evidence of what a plant met, for a cause.
func (m Model) met(c Case, b Bearing, odds [CauseCount]float64, top int) []Evidence {
	ratio := math.Log(odds[top] / usualOdds)
	switch top {
	case atShaded:
		return []Evidence{{Kind: Met, Limit: fit.TooDim, SunOffH: c.SunShortH, LogRatio: ratio}}
	case atSlow:
		return []Evidence{{Kind: Age, Months: c.Months, LogRatio: ratio}}
	case atExposed:
		if sun := m.sunOdds(c.SunOverH, b[atMostSun]); sun > odds[top]/2 {
			return []Evidence{{Kind: Met, Limit: fit.TooSun, SunOffH: c.SunOverH, LogRatio: ratio}}
		}
	case atFine: // the nearest limit was far away
		var others float64
		for k, w := range odds {
			if k != atFine && k != atOther && k != atSlow {
				others += w
			}
		}
		l := nearest(c)
		if l < 0 {
			return nil
		}
		return []Evidence{{Kind: Met, Limit: Limits()[l], Dose: c.Dose[l], LogRatio: math.Log(5 * usualOdds / others)}}
	}
	for l := range LimitCount {
		if causeOf(l) == top && !math.IsNaN(c.Dose[l].Severity) {
			return []Evidence{{Kind: Met, Limit: Limits()[l], Dose: c.Dose[l], LogRatio: ratio}}
		}
	}
	return nil
}

// nearest is the limit that came nearest to being passed; -1 if none is known.
func nearest(c Case) int {
	best := -1
	for l, d := range c.Dose {
		if !math.IsNaN(d.Severity) && (best < 0 || d.Severity > c.Dose[best].Severity) {
			best = l
		}
	}
	return best
}

// look is something to look for, and how much it is expected to tell.
type look struct {
	Sign Sign
	Bits float64 // expected gain of information
}

// bestLook finds the sign, not yet looked for, that would tell most: the
// expected fall of the entropy of the causes over its two outcomes,
//
//	H(P) - sum over yes, no of P(outcome) H(P given outcome)
//
// computed from the causes as they stand without what its not being written
// down counts. Signs with nothing to look for are passed over.
func (m Model) bestLook(t *Table, l *chances, n Note, odds [CauseCount]float64) *look {
	var best *look
	for i, r := range t.Rows {
		if r.Look == "" || slices.Contains(n.Seen, r.Sign) || slices.Contains(n.Absent, r.Sign) {
			continue
		}
		if bits := gain(m.posterior(l, n, odds, i), r.Chance); best == nil || bits > best.Bits {
			best = &look{Sign: r.Sign, Bits: bits}
		}
	}
	return best
}

func gain(now, chance [CauseCount]float64) float64 {
	bits := entropy(now)
	for _, c := range [2][CauseCount]float64{chance, complement(chance)} {
		var after [CauseCount]float64
		sum := 0.0
		for k := range after {
			after[k] = now[k] * c[k]
			sum += after[k]
		}
		for k := range after {
			after[k] /= sum
		}
		bits -= sum * entropy(after)
	}
	return bits
}

func entropy(p [CauseCount]float64) float64 {
	h := 0.0
	for _, v := range p {
		if v > 0 {
			h -= v * math.Log2(v)
		}
	}
	return h
}
