package page

import (
	"fmt"
	"sync"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
)

// young remembers the first year that was worked out last.
type young struct {
	mu  sync.Mutex
	key string
	out careOut
}

type careOut struct {
	Blocks doc.Blocks `json:"blocks"`
}

// care works out the first year of what is planted or else of the list, as the
// command care does.
func (s *session) care() (careOut, error) {
	m := s.now()
	today := s.today(m)
	s.young.mu.Lock()
	defer s.young.mu.Unlock()
	key := fmt.Sprintf("%d %s %s", m.version, m.judge.Exposure.Lot.Garden.Units, today.Format(time.DateOnly))
	if key == s.young.key {
		return s.young.out, nil
	}
	rows, err := m.draft.standing()
	if err != nil {
		return careOut{}, unprocessable(err)
	}
	in, err := report.FirstYearOf(m.placed.Planting, s.garden.Table, rows, today, "planted.csv")
	if err != nil {
		return careOut{}, err
	}
	var out careOut
	if in != nil {
		out.Blocks = report.NewCare(s.head(), *in).Whole()
	}
	s.young.key, s.young.out = key, out
	return out, nil
}
