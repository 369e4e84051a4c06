// Command growth prints how the time of the main parts grows with their size,
// and the slope of that growth on a scale of logarithms: 1 is growth in
// proportion, 2 is growth by the square.
//
//	go run ./testdata/growth
//
// Times are of the processor, on all cores, and the least of several runs, since
// a busy machine only ever adds. The slope is that of the straight line, by least
// squares, through all sizes but the smallest, where fixed costs rule.
package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"syscall"
	"time"

	"hollowbed/cmd/hollowbed/report"
	"hollowbed/data"
	"hollowbed/plants"
	"hollowbed/plants/catalogue"
	"hollowbed/plants/many"
	"hollowbed/plants/moves"
	"hollowbed/search"
	"hollowbed/testdata/growth/varied"
	"hollowbed/zones"
	"hollowbed/zones/site"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	for _, measure := range []func() error{lists, years, plantTables, gardens, assignments} {
		if err := measure(); err != nil {
			return err
		}
	}
	fmt.Println("\nbands of the balance: go test -run '^$' -bench GrowthBands ./zones/water")
	return nil
}

// curve measures some work at rising sizes and prints it.
func curve(what, unit string, sizes []int, work func(n int) (func() error, error)) error {
	fmt.Printf("\n%s\n%10s %12s %14s\n", what, unit, "ms", "us for each")
	var works []func() error
	for _, n := range sizes {
		do, err := work(n)
		if err != nil {
			return err
		}
		works = append(works, do)
	}
	least := slices.Repeat([]float64{math.Inf(1)}, len(sizes))
	for range rounds { // each over all sizes, so that a busy moment meets all alike
		for i, do := range works {
			begin, _ := used()
			if err := do(); err != nil {
				return err
			}
			end, _ := used()
			least[i] = min(least[i], float64(end-begin))
		}
	}
	var x, y []float64
	for i, n := range sizes {
		fmt.Printf("%10d %12.2f %14.2f\n", n, least[i]/1e6, least[i]/1e3/float64(n))
		x, y = append(x, math.Log(float64(n))), append(y, math.Log(least[i]))
	}
	fmt.Printf("slope %.2f\n", slope(x[1:], y[1:]))
	return nil
}

const rounds = 5

// used is what the process has used so far: nanoseconds of processor, and MB of
// memory at the most.
func used() (ns, mb int64) {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return u.Utime.Nano() + u.Stime.Nano(), u.Maxrss / 1024
}

func slope(x, y []float64) float64 {
	var mx, my, xy, xx float64
	for i := range x {
		mx += x[i] / float64(len(x))
		my += y[i] / float64(len(y))
	}
	for i := range x {
		xy += (x[i] - mx) * (y[i] - my)
		xx += (x[i] - mx) * (x[i] - mx)
	}
	return xy / xx
}

func demo() (*zones.Garden, []byte, []byte, error) {
	text, err := fs.ReadFile(data.Files(), "garden.yaml")
	if err != nil {
		return nil, nil, nil, err
	}
	rain, err := fs.ReadFile(data.Files(), "rain.csv")
	if err != nil {
		return nil, nil, nil, err
	}
	table, err := fs.ReadFile(data.Files(), "plants.csv")
	if err != nil {
		return nil, nil, nil, err
	}
	g, err := zones.ReadGarden("garden.yaml", bytes.NewReader(text))
	return g, rain, table, err
}

// years grows the record: the demo's days, again and again.
func years() error {
	g, rain, _, err := demo()
	if err != nil {
		return err
	}
	rows, err := csv.NewReader(bytes.NewReader(rain)).ReadAll()
	if err != nil {
		return err
	}
	record := func(n int) []byte {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Write(rows[0])
		for day, k := time.Date(1800, 1, 1, 0, 0, 0, 0, time.UTC), 0; day.Year() < 1800+n; day, k = day.AddDate(0, 0, 1), k+1 {
			row := rows[1+k%(len(rows)-1)]
			w.Write(append([]string{day.Format(time.DateOnly)}, row[1:]...))
		}
		w.Flush()
		return b.Bytes()
	}
	sizes := []int{6, 12, 24, 48, 96, 192}
	if err := curve("weather record: reading", "years", sizes, func(n int) (func() error, error) {
		text := record(n)
		return func() error {
			_, err := site.ReadRecord("rain.csv", bytes.NewReader(text), g.Weather.Format, g.Site.LatitudeDeg)
			return err
		}, nil
	}); err != nil {
		return err
	}
	return curve("water balance and spells of twelve bands, with the sun", "years", sizes, func(n int) (func() error, error) {
		rec, err := site.ReadRecord("rain.csv", bytes.NewReader(record(n)), g.Weather.Format, g.Site.LatitudeDeg)
		if err != nil {
			return nil, err
		}
		lot, err := zones.Prepare(g, rec)
		return func() error { _, err := lot.Expose(); return err }, err
	})
}

// exposed is the demo with its record run, and its plant table.
func exposed() (*zones.Exposure, []byte, error) {
	g, rain, table, err := demo()
	if err != nil {
		return nil, nil, err
	}
	rec, err := site.ReadRecord("rain.csv", bytes.NewReader(rain), g.Weather.Format, g.Site.LatitudeDeg)
	if err != nil {
		return nil, nil, err
	}
	lot, err := zones.Prepare(g, rec)
	if err != nil {
		return nil, nil, err
	}
	exposure, err := lot.Expose()
	return exposure, table, err
}

// lists grows a table of varied plants, from which the list of the demo is made.
// It comes first, so that the memory is its own.
func lists() error {
	exposure, _, err := exposed()
	if err != nil {
		return err
	}
	g := exposure.Lot.Garden
	err = curve("choose, from the plant table to the list as JSON", "plants", []int{100, 300, 1000, 2500, 5000, 10_000, 20_000}, func(n int) (func() error, error) {
		text := varied.Table(n, 1)
		return func() error {
			c, err := catalogue.Read("plants.csv", bytes.NewReader(text))
			if err != nil {
				return err
			}
			p, err := plants.Choose(plants.NewJudge(exposure), c)
			if err != nil {
				return err
			}
			return report.JSON(io.Discard, report.NewChoose(report.NewGarden(g, false), c.Name, p, nil))
		}, nil
	})
	_, mb := used()
	fmt.Printf("largest memory %d MB\n", mb)
	return err
}

// plantTables grows the plant table: the demo's plants under other names.
func plantTables() error {
	exposure, table, err := exposed()
	if err != nil {
		return err
	}
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil {
		return err
	}
	many := func(n int) []byte {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Write(rows[0])
		for i := range n {
			row := append([]string{}, rows[1+i%(len(rows)-1)]...)
			row[0], row[1], row[2] = "p"+strconv.Itoa(i), row[1]+" f. "+strconv.Itoa(i), row[2]+" "+strconv.Itoa(i)
			w.Write(row)
		}
		w.Flush()
		return b.Bytes()
	}
	sizes := []int{125, 250, 500, 1000, 2000, 4000}
	read := func(n int) (*catalogue.Catalogue, error) {
		return catalogue.Read("plants.csv", bytes.NewReader(many(n)))
	}
	if err := curve("plant table: reading and checking", "plants", sizes, func(n int) (func() error, error) {
		text := many(n)
		return func() error { _, err := catalogue.Read("plants.csv", bytes.NewReader(text)); return err }, nil
	}); err != nil {
		return err
	}
	if err := curve("judging every plant in every zone", "plants", sizes, func(n int) (func() error, error) {
		c, err := read(n)
		return func() error { plants.NewJudge(exposure).All(c); return nil }, err
	}); err != nil {
		return err
	}
	query, err := search.Parse("blue july")
	if err != nil {
		return err
	}
	return curve("first search for words in the plant table", "plants", sizes, func(n int) (func() error, error) {
		c, err := read(n)
		return func() error {
			index, err := search.New(c.Plants, search.Options{})
			if err != nil {
				return err
			}
			_, err = index.Find(query)
			return errors.Join(err, index.Close())
		}, err
	})
}

// gardens grows a batch of lots that differ in their roof.
func gardens() error {
	text, err := fs.ReadFile(data.Files(), "garden.yaml")
	if err != nil {
		return err
	}
	base, g, err := zones.ReadBase("garden.yaml", bytes.NewReader(text))
	if err != nil {
		return err
	}
	return curve("batch of gardens, as far as zones, one core", "gardens", []int{4, 8, 16, 32, 64}, func(n int) (func() error, error) {
		var table bytes.Buffer
		fmt.Fprintln(&table, "id,roof.area")
		for i := range n {
			fmt.Fprintf(&table, "lot-%d,%d m2\n", i, 60+i)
		}
		return func() error {
			rows, err := many.OpenTable("rows.csv", bytes.NewReader(table.Bytes()), base.CheckKeys)
			if err != nil {
				return err
			}
			batch := many.New(many.Shared{Base: base, WeatherFile: g.Weather.File, What: many.Zones, Open: func(file string, _ bool) (io.ReadCloser, string, error) {
				f, err := data.Files().Open(file)
				return f, file, err
			}})
			next := func() (many.Row, bool, error) {
				row, err := rows.Next()
				if errors.Is(err, io.EOF) {
					return row, false, nil
				}
				return row, err == nil, err
			}
			return many.InOrder(1, next, batch.Answer, func(a many.Answer) error { return a.Err })
		}, nil
	})
}

// assignments grows the matrix of plants and places of a relocation plan.
func assignments() error {
	return curve("exact assignment of plants to places", "plants", []int{50, 100, 200, 400, 800}, func(n int) (func() error, error) {
		draw := rand.New(rand.NewPCG(1, 2))
		p := moves.Problem{Plants: make([]moves.Plant, n), Places: make([]moves.Place, n), Loss: make([]float64, n*n)}
		for i := range p.Plants {
			p.Plants[i].At = i
		}
		for i := range p.Loss {
			p.Loss[i] = draw.Float64()
		}
		return func() error { _, err := moves.Solve(p); return err }, nil
	})
}
