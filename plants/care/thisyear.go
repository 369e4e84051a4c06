package care

import (
	"fmt"
	"time"
)

// outsideError says that a date lies outside the weather at hand.
type outsideError struct{ Date, From, To time.Time }

func (e *outsideError) Error() string {
	const day = "2006-01-02"
	return fmt.Sprintf("planted %s: want a day of the weather at hand, %s to %s", e.Date.Format(day), e.From.Format(day), e.To.Format(day))
}

// BadInput marks the error as one that the user can mend.
func (e *outsideError) BadInput() bool { return true }
