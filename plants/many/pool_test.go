package many

import (
	"errors"
	"math/rand/v2"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// counting gives 0, 1, ... up to but not including n.
func counting(n int) func() (int, bool, error) {
	i := -1
	return func() (int, bool, error) {
		i++
		return i, i < n, nil
	}
}

// Results come in the order of the items, each once, however long each takes;
// and no more are begun ahead of what is told than the workers need.
func TestInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 60).Draw(t, "items")
		workers := rapid.IntRange(1, 5).Draw(t, "workers")
		seed := rapid.Uint64().Draw(t, "seed")
		var begun, told atomic.Int64
		var got []int
		err := InOrder(workers, counting(n), func(i int) int {
			begun.Add(1)
			ahead := begun.Load() - told.Load()
			assert.LessOrEqual(t, ahead, int64((waiting+1)*workers+2), "begun ahead of what is told")
			r := rand.New(rand.NewPCG(seed, uint64(i)))
			time.Sleep(time.Duration(r.IntN(200)) * time.Microsecond)
			return i * i
		}, func(r int) error {
			told.Add(1)
			got = append(got, r)
			return nil
		})
		require.NoError(t, err)
		require.Len(t, got, n)
		for i, r := range got {
			require.Equal(t, i*i, r)
		}
	})
}

// An error of the teller stops all; an error of the giver is told after what
// came before it.
func TestInOrderErrors(t *testing.T) {
	stop := errors.New("no space left")
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "items")
		at := rapid.IntRange(0, n-1).Draw(t, "at")
		workers := rapid.IntRange(1, 4).Draw(t, "workers")
		var worked atomic.Int64
		told := 0
		err := InOrder(workers, counting(n), func(i int) int { worked.Add(1); return i }, func(i int) error {
			if i == at {
				return stop
			}
			told++
			return nil
		})
		require.ErrorIs(t, err, stop)
		assert.Equal(t, at, told)
		assert.LessOrEqual(t, worked.Load(), int64(at+1+(waiting+1)*workers+2), "the rest is not worked out")

		told = 0
		next := counting(n)
		err = InOrder(workers, func() (int, bool, error) {
			i, more, _ := next()
			if i == at {
				return 0, false, stop
			}
			return i, more, nil
		}, func(i int) int { return i }, func(int) error { told++; return nil })
		require.ErrorIs(t, err, stop)
		assert.Equal(t, at, told)
	})
}
