package fit

import (
	"fmt"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"hollowbed/testdata/testenv"
)

// estimator is one way from the severities of past years to the chance that
// the next year is past a limit.
type estimator struct {
	name string
	risk func(severity []float64) float64
}

const chosen = "chosen"

// estimators lists what the chosen predictor is held against.
func estimators() []estimator {
	return []estimator{
		{chosen, predictorRisk(DefaultPredictor())},
		{"soft count, half the scale", predictorRisk(Predictor{Scale: DefaultPredictor().Scale / 2})},
		{"soft count, twice the scale", predictorRisk(Predictor{Scale: DefaultPredictor().Scale * 2})},
		{"count k/n", func(s []float64) float64 { return past(s) / float64(len(s)) }},
		{"count (k+1)/(n+2)", func(s []float64) float64 { return (past(s) + 1) / (float64(len(s)) + 2) }},
		{"count (k+1/2)/(n+1)", func(s []float64) float64 { return (past(s) + 0.5) / (float64(len(s)) + 1) }},
		{"normal, plug-in", normalPlugIn},
		{"Student t, no prior", func(s []float64) float64 { return studentRisk(s, 0, 0) }},
		{"Student t, 1 year of 0.5", func(s []float64) float64 { return studentRisk(s, 1, 0.5) }},
		{"Student t, 2 years of 0.4", func(s []float64) float64 { return studentRisk(s, 2, 0.4) }},
		{"Student t, 4 years of 0.3", func(s []float64) float64 { return studentRisk(s, 4, 0.3) }},
	}
}

func predictorRisk(p Predictor) func([]float64) float64 {
	return func(s []float64) float64 { return p.YearlyRisk(yearsOf(s), nil) }
}

// yearsOf makes years of which only one limit is known.
func yearsOf(severity []float64) []Year {
	nan := math.NaN()
	years := make([]Year, len(severity))
	for i, s := range severity {
		years[i] = Year{Wet: s, Deep: nan, Dry: nan, Cold: nan}
	}
	return years
}

func past(severity []float64) float64 {
	k := 0.0
	for _, s := range severity {
		if s > 1 {
			k++
		}
	}
	return k
}

// logMoments returns mean and sum of squared deviations of log severity, with
// severities held between 0.01 and 100 as a bell curve bears no less.
func logMoments(severity []float64) (n, mean, ss float64) {
	n = float64(len(severity))
	for _, s := range severity {
		mean += logSeverity(s) / n
	}
	for _, s := range severity {
		d := logSeverity(s) - mean
		ss += d * d
	}
	return n, mean, ss
}

func logSeverity(s float64) float64 { return math.Log(min(max(s, 0.01), 100)) }

func normalPlugIn(severity []float64) float64 {
	n, mean, ss := logMoments(severity)
	return 0.5 * math.Erfc(-mean/max(math.Sqrt(ss/(n-1)), 1e-9)/math.Sqrt2)
}

// studentRisk is the predictive chance under a normal of unknown mean and
// spread, with priorYears' worth of belief in a spread of prior:
//
//	t = -m / (s sqrt(1 + 1/n)), s^2 = (SS + v prior^2) / (n - 1 + v), n - 1 + v degrees of freedom
func studentRisk(severity []float64, priorYears, prior float64) float64 {
	n, mean, ss := logMoments(severity)
	freedom := n - 1 + priorYears
	s := max(math.Sqrt((ss+priorYears*prior*prior)/freedom), 1e-9)
	return studentSurvival(-mean/(s*math.Sqrt(1+1/n)), freedom)
}

func studentSurvival(t, freedom float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Survival(t)
}

// The comparison is only fair if the t is right. Devore, Probability and
// Statistics for Engineering and the Sciences, 7th ed., Examples 7.11 and 7.12
// (fat of ten hot dogs: mean 21.90, s 4.134; 95 % prediction interval 12.09 to
// 31.71; data and figures from memory, and the arithmetic agrees with them).
func TestStudentTextbook(t *testing.T) {
	fat := []float64{25.2, 21.3, 22.8, 17.0, 29.8, 21.0, 25.5, 16.0, 20.9, 19.5}
	severity := func(limit float64) []float64 { // so that log severity is (fat - limit) / 10
		var s []float64
		for _, f := range fat {
			s = append(s, math.Exp((f-limit)/10))
		}
		return s
	}
	n, mean, ss := logMoments(severity(0))
	assert.InDelta(t, 21.90, 10*mean, 0.005)
	assert.InDelta(t, 4.134, 10*math.Sqrt(ss/(n-1)), 0.0005)
	assert.InDelta(t, 0.025, studentRisk(severity(31.71), 0, 0), 2e-5, "above the interval")
	assert.InDelta(t, 0.975, studentRisk(severity(12.09), 0, 0), 2e-5, "above its lower end")
}

// scipy.stats.t and scipy.stats.logistic (SciPy) are an independent second
// opinion on the t of the comparison and on the soft edge of one year.
func TestAgainstSciPy(t *testing.T) {
	var want strings.Builder
	ts, freedoms := []float64{-8, -1.5, 0, 0.3, 2.228, 5, 40}, []float64{1, 2.5, 10, 23, 200}
	sevs, ns := []float64{0.2, 0.8, 0.99, 1, 1.3, 4}, []int{1, 4, 24}
	fmt.Fprintf(&want, "from scipy.stats import t, logistic\nimport math\n")
	var have []float64
	for _, x := range ts {
		for _, v := range freedoms {
			fmt.Fprintf(&want, "print(repr(float(t.sf(%v, %v))))\n", x, v)
			have = append(have, studentSurvival(x, v))
		}
	}
	for _, s := range sevs {
		for _, n := range ns {
			fmt.Fprintf(&want, "print(repr(float(logistic.cdf(math.log(%v), scale=0.45/math.sqrt(%d)))))\n", s, n)
			var alike []float64
			for range n {
				alike = append(alike, s)
			}
			have = append(have, Predictor{Scale: 0.45}.YearlyRisk(yearsOf(alike), nil))
		}
	}
	lines := scipy(t, want.String())
	require.Len(t, lines, len(have))
	for i, line := range lines {
		v, err := strconv.ParseFloat(line, 64)
		require.NoError(t, err)
		assert.InDelta(t, v, have[i], 1e-9*max(1, math.Abs(v)), "line %d", i)
	}
}

// scipy runs a program and returns the words it prints.
func scipy(t *testing.T, program string) []string {
	t.Helper()
	cmd := exec.Command(testenv.Python(t, "scipy"), "-")
	cmd.Stdin = strings.NewReader(program)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	return strings.Fields(string(out))
}
