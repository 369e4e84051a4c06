package main

import (
	"math"
	"math/rand/v2"
	"slices"

	"hollowbed/plants/season"
)

// shaken is the table of signs of the true world: the odds of each sign under
// each cause are those of the given table times a factor of their own.
func (t madeUp) shaken(given *season.Table) []season.Row {
	rng := rand.New(rand.NewPCG(t.Seed, 2))
	rows := slices.Clone(given.Rows)
	for r := range rows {
		for c, p := range rows[r].Chance {
			odds := p / (1 - p) * math.Exp(t.SignSpread*rng.NormFloat64())
			rows[r].Chance[c] = odds / (1 + odds)
		}
	}
	return rows
}

func number(c season.Cause) int {
	causes := season.Causes()
	return slices.Index(causes[:], c)
}

// vigours is how often a living plant has each vigour, as rising sums.
func vigours(c season.Cause) [6]float64 {
	switch c {
	case season.Fine:
		return [6]float64{0, 0, 0, 0.25, 0.7, 1}
	case season.Slow:
		return [6]float64{0, 0.35, 1, 1, 1, 1}
	}
	return [6]float64{0.15, 0.6, 1, 1, 1, 1}
}

// observe writes the note of plant i after a season, as the gardener sees it.
func (t madeUp) observe(g *garden, rows []season.Row, i, turn int, f fate) season.Note {
	roll := func(what chance) float64 { return luck(t.Seed, g.index, g.draw(i), turn, what) }
	n := season.Note{Date: g.end(turn), Seen: t.seen(rows, roll, f)}
	if f.dies {
		n.Seen = append(n.Seen, season.Dead)
		return n
	}
	sums := vigours(f.cause)
	for roll(luckVigour) >= sums[n.Vigour] {
		n.Vigour++
	}
	if roll(luckSlip) < t.NoteNoise*t.VigourSlips {
		if roll(luckSlipUp) < 0.5 {
			n.Vigour++
		} else {
			n.Vigour--
		}
		n.Vigour = min(5, max(0, n.Vigour))
	}
	return n
}

// seen draws the signs of a cause; the dead show half of them. In some notes
// one is missed, or one is written down that was not there.
func (t madeUp) seen(rows []season.Row, roll func(chance) float64, f fate) []season.Sign {
	var out []season.Sign
	cause, shown := number(f.cause), 1.0
	if f.dies {
		shown = t.DeadShow
	}
	for r, row := range rows {
		if roll(luckSigns+chance(r)) < shown*row.Chance[cause] {
			out = append(out, row.Sign)
		}
	}
	if roll(luckNote) >= t.NoteNoise*t.WrongSigns {
		return out
	}
	which := 2 * roll(luckNoteWhich)
	switch {
	case which >= 1:
		if s := rows[int((which-1)*float64(len(rows)))].Sign; !slices.Contains(out, s) {
			out = append(out, s)
		}
	case len(out) > 0:
		k := int(which * float64(len(out)))
		out = slices.Delete(out, k, k+1)
	}
	return out
}
