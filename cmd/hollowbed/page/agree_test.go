package page_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hollowbed/plants"
)

// A plant has one risk on the plan, whether it is looked at, picked or held: that of
// its very place, sun included.
func TestOneRiskOnThePlan(t *testing.T) {
	t.Parallel()
	w := call(t, demoGarden(t))
	s := w.placed()
	type held struct {
		Risk, Here string
		Share      float64 `json:"risk_share"`
	}
	for _, p := range s.Plants {
		got := post[held](w, "/api/risk", changes{"stake": p.Stake, "x_m": p.X, "y_m": p.Y})
		assert.InDelta(t, p.Share, got.Share, 1e-12, p.Stake)
		assert.Equal(t, p.Risk, got.Risk, p.Stake)
		assert.Equal(t, p.Risk, got.Here, p.Stake)
	}
	j, tried := judged(t), 0
	spot, ok := j.SpotAt(s.Plants[0].X, s.Plants[0].Y)
	require.True(t, ok)
	for _, p := range demoGarden(t).Table.Plants {
		if v := j.At(p, spot); v.Fit.SunLoss > 0 && v.Bar != plants.BarUnknown && tried < 5 {
			tried++
			got := post[held](w, "/api/risk", changes{"id": p.ID, "x_m": spot.X, "y_m": spot.Y})
			assert.InDelta(t, 1-v.Fit.Survival(), got.Share, 1e-12, p.ID)
		}
	}
	assert.Positive(t, tried, "what too much or too little sun takes is in it")
}
