package page

import (
	"fmt"
	"sync"
	"time"

	"hollowbed/cmd/hollowbed/doc"
	"hollowbed/cmd/hollowbed/report"
	"hollowbed/plants"
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
	rows, err := m.draft.standing()
	if err != nil {
		return careOut{}, unprocessable(err)
	}
	rec := s.noted()
	key := fmt.Sprintf("%d %s %s %v %v", m.version, m.judge.Exposure.Lot.Garden.Units, today.Format(time.DateOnly), rec.Alive(rows), plants.NotedIn(rec, rows, s.garden.Table))
	if key == s.young.key {
		return s.young.out, nil
	}
	in, err := report.FirstYearOf(m.placed.Planting, s.garden.Table, rows, rec, today, "planted.csv")
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
