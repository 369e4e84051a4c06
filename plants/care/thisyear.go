package care

import (
	"fmt"
	"time"
)

// ThisYear walks a zone from the day it was planted to the end of the weather
// at hand: the record so far, then the forecast. The rule is by depletion; a
// watering waits for rain that the forecast brings within a day.
func (b *Bed) ThisYear(stand Stand, plantedOn time.Time, gapDays int) (Season, error) {
	w := b.Weather
	band, from := w.driest(stand.Zone), w.DayOf(plantedOn)
	if band < 0 {
		return Season{}, fmt.Errorf("care: the bed has no zone %q", stand.Zone)
	}
	if from < 0 || from >= len(w.RainMM) {
		return Season{}, &outsideError{Date: plantedOn, From: w.Start, To: w.date(len(w.RainMM) - 1)}
	}
	c := course{bed: b, offeredMM: w.Run.OfferedMM[band], stand: stand, rootCM: stand.rootCM(b.Ground), rule: ByDepletion, gapDays: gapDays, lookAhead: 1}
	return c.walk(from, len(w.RainMM)), nil
}

// outsideError says that a date lies outside the weather at hand.
type outsideError struct{ Date, From, To time.Time }

func (e *outsideError) Error() string {
	const day = "2006-01-02"
	return fmt.Sprintf("planted %s: want a day of the weather at hand, %s to %s", e.Date.Format(day), e.From.Format(day), e.To.Format(day))
}

// BadInput marks the error as one that the user can mend.
func (e *outsideError) BadInput() bool { return true }
