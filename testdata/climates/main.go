// Command climates packs the built-in climates into zones/climate/stations.bin.
//
//	go run ./testdata/climates
//
// The packed file is gzip over a list of stations (CSV, a blank line at its
// end) and then, for each figure of climate.Columns, that of every station and
// month, rounded to its unit, as the difference from the month before: a
// signed varint.
package main

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"

	"hollowbed/zones/climate"
)

func main() {
	packed, err := pack("testdata/climates/us-stations.csv.gz", "testdata/climates/us-monthly.csv.gz")
	if err == nil {
		err = os.WriteFile("zones/climate/stations.bin", packed, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func pack(stationsFile, monthlyFile string) ([]byte, error) {
	stations, err := table(stationsFile)
	if err != nil {
		return nil, err
	}
	monthly, err := table(monthlyFile)
	if err != nil {
		return nil, err
	}
	if len(monthly) != 12*(len(stations)-1)+1 {
		return nil, fmt.Errorf("%s: %d rows, expected 12 for each of %d stations", monthlyFile, len(monthly)-1, len(stations)-1)
	}
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	list := csv.NewWriter(z)
	list.WriteAll(stations[1:])
	io.WriteString(z, "\n")
	place := map[string]int{}
	for i, name := range monthly[0] {
		place[name] = i
	}
	for _, c := range climate.Columns() {
		at, ok := place[c.Name]
		if !ok {
			return nil, fmt.Errorf("%s: no column %s", monthlyFile, c.Name)
		}
		before := int64(0)
		for i, row := range monthly[1:] {
			if want := stations[1+i/12][0]; row[0] != want || row[1] != strconv.Itoa(i%12+1) {
				return nil, fmt.Errorf("%s: row %d is %s month %s, expected %s", monthlyFile, i+2, row[0], row[1], want)
			}
			v, err := strconv.ParseFloat(row[at], 64)
			if err != nil {
				return nil, err
			}
			if i%12 == 0 {
				before = 0
			}
			whole := int64(math.Round(v / c.Unit))
			z.Write(binary.AppendVarint(nil, whole-before))
			before = whole
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func table(name string) ([][]string, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	z, err := gzip.NewReader(file)
	if err != nil {
		return nil, err
	}
	return csv.NewReader(z).ReadAll()
}
