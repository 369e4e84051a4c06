// Package records reads the long records of testdata/climates, for tests alone.
package records

import (
	"compress/gzip"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"hollowbed/zones/site"
)

// Place is where a record was kept.
type Place struct {
	File           string
	LatDeg, LonDeg float64
	ElevationM     float64
}

// Places are those of the seven records. Heights are those of the files' heads or of
// the stations.
func Places() []Place {
	return []Place{
		{"daily-usc00294426", 32.616, -106.741, 1300}, // Jornada: desert
		{"daily-usc00227840", 30.635, -89.134, 58},    // Saucier: Gulf
		{"daily-usc00106388", 44.97, -116.28, 1177},   // New Meadows: mountain
		{"daily-usc00083909", 25.818, -80.286, 4},     // Hialeah: subtropical
		{"daily-al015478", 30.68, -88.25, 68},         // Mobile
		{"daily-mn214026", 48.57, -93.38, 353},        // International Falls
		{"daily-tx412797", 31.8, -106.4, 1192},        // El Paso: desert
	}
}

// Read reads one of them from the root of the repository. A day without rain takes that
// of the same date in the nearest year that has it, so that gaps cut no spells short.
func Read(root string, p Place) (*site.Record, error) {
	file, err := os.Open(filepath.Join(root, "testdata/climates", p.File+".csv.gz"))
	if err != nil {
		return nil, err
	}
	defer file.Close()
	z, err := gzip.NewReader(file)
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(z)
	if err != nil {
		return nil, err
	}
	rec, err := site.ReadRecord(p.File, strings.NewReader(string(text)), site.Format{AbsentRow: "missing"}, p.LatDeg)
	if err == nil {
		closeGaps(rec)
	}
	return rec, err
}

func closeGaps(r *site.Record) {
	const year = 365
	for day := range r.Days {
		if _, whole := r.DayRainMM(day); whole {
			continue
		}
		for k := 1; k < 46; k++ {
			if from := nearest(r, day, k*year); from >= 0 {
				copy(r.RainMM[24*day:24*day+24], r.RainMM[24*from:24*from+24])
				break
			}
		}
	}
	clear(r.Missing)
	for i := range r.RainMM {
		if math.IsNaN(r.RainMM[i]) {
			r.RainMM[i] = 0
		}
	}
}

// nearest is a day so many days before or after that was measured; -1 if there is none.
func nearest(r *site.Record, day, away int) int {
	for _, from := range []int{day - away, day + away} {
		if from >= 0 && from < len(r.Days) {
			if _, whole := r.DayRainMM(from); whole {
				return from
			}
		}
	}
	return -1
}
