package climate

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat/distuv"
)

// Against the standard library, which is within a bit or two of the true value.
func TestExpLn(t *testing.T) {
	for x := -600.0; x < 600; x += 0.37 {
		assert.InEpsilon(t, math.Exp(x), exp(x), 1e-15, "exp %v", x)
	}
	for x := 1e-12; x < 1e9; x *= 1.37 {
		assert.InDelta(t, math.Log(x), ln(x), 4e-16*(1+math.Abs(math.Log(x))), "ln %v", x)
	}
}

// Against gonum's normal law.
func TestTails(t *testing.T) {
	tail := tails()
	for i := 0; i < len(tail); i += 7 {
		assert.InEpsilon(t, distuv.UnitNormal.Survival(scoreAt(float64(i))), tail[i], 1e-6)
	}
	d, n := newDraw(3), 200_000
	var m moments
	for range n {
		m.add(d.normal())
	}
	mean, sd, skew := m.law()
	assert.InDelta(t, 0, mean, 0.01)
	assert.InDelta(t, 1, sd, 0.01)
	assert.InDelta(t, 0, skew, 0.02)
}

// The same seed makes the same bits on every processor: this digest was made on
// amd64 and held on arm64, where compilers fuse products into sums.
func TestSameBits(t *testing.T) {
	s, ok := StationByID("il116711")
	assert.True(t, ok)
	sum := sha256.New()
	rec := s.Record(3, 5, "type-ii")
	for _, v := range rec.RainMM {
		binary.Write(sum, binary.LittleEndian, v)
	}
	for _, d := range rec.Days {
		binary.Write(sum, binary.LittleEndian, []float64{d.TMinC, d.TMaxC})
	}
	assert.Equal(t, "0bca040b2bce299249a95b61db925f51d3f072805c354c2fc0c43a40e44c3edf", hex.EncodeToString(sum.Sum(nil)))
}
