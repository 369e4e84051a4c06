package care

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hollowbed/zones/site"
)

// Join puts a forecast after the record so far and returns the first day that
// is forecast. Where both have a day the record's counts; days between them
// count as missing. Both must begin at midnight in the same fixed zone.
func Join(soFar, forecast *site.Record) (joined *site.Record, forecastFrom int, err error) {
	_, zone := soFar.Start.Zone()
	if _, other := forecast.Start.Zone(); zone != other {
		return nil, 0, &joinError{soFar.Source, forecast.Source, "want both in the same time zone"}
	}
	n := len(soFar.Days)
	at := int(forecast.Start.Sub(soFar.Start) / (24 * time.Hour))
	if at+len(forecast.Days) <= n {
		return nil, 0, &joinError{soFar.Source, forecast.Source, "want a forecast that goes beyond the record"}
	}
	if at-n > 31 {
		return nil, 0, &joinError{soFar.Source, forecast.Source, "want at most a month between the end of the record and the forecast"}
	}
	if at < 0 {
		return nil, 0, &joinError{soFar.Source, forecast.Source, "want a forecast that begins after the record does"}
	}
	out := *soFar
	out.RainMM, out.Missing = slices.Clone(soFar.RainMM), slices.Clone(soFar.Missing)
	out.Days, out.Notes = slices.Clone(soFar.Days), slices.Concat(soFar.Notes, forecast.Notes)
	for len(out.Days) < at {
		out.Days = append(out.Days, site.Day{TMinC: math.NaN(), TMaxC: math.NaN(), ET0MM: math.NaN()})
		for range 24 {
			out.RainMM, out.Missing = append(out.RainMM, 0), append(out.Missing, true)
		}
	}
	skip := len(out.Days) - at
	out.Days = append(out.Days, forecast.Days[skip:]...)
	out.RainMM = append(out.RainMM, forecast.RainMM[24*skip:]...)
	out.Missing = append(out.Missing, forecast.Missing[24*skip:]...)
	return &out, n, nil
}

// joinError says why a forecast cannot follow a record.
type joinError struct{ Record, Forecast, Want string }

func (e *joinError) Error() string {
	return fmt.Sprintf("%s after %s: %s", e.Forecast, e.Record, e.Want)
}

// BadInput marks the error as one that the user can mend.
func (e *joinError) BadInput() bool { return true }
