package catalogue

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"

	"hollowbed/zones/table"
)

// packedVersion is the shape of what Pack writes: raise it with each change to that.
const packedVersion = 3

var errPacked = errors.New("catalogue: not a packed table, or a damaged one")

// Pack writes a catalogue so that Unpack gives the same one much sooner than
// Read does. It is for keeping on one machine, not for passing on: its shape
// may change with every version.
//
// First comes the CRC-32C of all that follows, then the version, the digest,
// all texts of the rows in one, each of them once, and the length of each, every
// list as places in the texts, the warnings, and the plants row by row: texts
// and lists as places, months and line as varints, other numbers in 8 bytes, the
// lowest first.
func (c *Catalogue) Pack() []byte {
	w := packer{texts: map[string]uint64{}, lists: map[string]uint64{}}
	var rows []byte
	for i := range c.Plants {
		rows = w.plant(rows, &c.Plants[i])
	}
	out := make([]byte, 4, len(rows)+len(w.text)+len(w.long)+len(w.list)+1024)
	out = binary.AppendUvarint(out, packedVersion)
	out = appendText(out, c.Digest)
	out = append(binary.AppendUvarint(out, uint64(len(w.text))), w.text...)
	out = append(binary.AppendUvarint(out, uint64(len(w.texts))), w.long...)
	out = append(binary.AppendUvarint(out, uint64(len(w.lists))), w.list...)
	out = binary.AppendUvarint(out, uint64(len(c.Warnings)))
	for _, f := range c.Warnings {
		out = binary.AppendUvarint(binary.AppendUvarint(out, uint64(f.Line)), uint64(f.Column))
		for _, s := range []string{f.Name, f.Value, f.Want} {
			out = appendText(out, s)
		}
	}
	out = append(binary.AppendUvarint(out, uint64(len(c.Plants))), rows...)
	binary.LittleEndian.PutUint32(out, crc32.Checksum(out[4:], crc32.MakeTable(crc32.Castagnoli)))
	return out
}

func appendText(out []byte, s string) []byte {
	return append(binary.AppendUvarint(out, uint64(len(s))), s...)
}

// packer gives each text and each list a place.
type packer struct {
	texts, lists     map[string]uint64
	text, long, list []byte // the texts, how long each is, the lists
}

func (w *packer) place(s string) uint64 {
	at, ok := w.texts[s]
	if !ok {
		at = uint64(len(w.texts))
		w.texts[s] = at
		w.text, w.long = append(w.text, s...), binary.AppendUvarint(w.long, uint64(len(s)))
	}
	return at
}

func (w *packer) listPlace(list []string) uint64 {
	key := binary.AppendUvarint(nil, uint64(len(list)))
	for _, s := range list {
		key = binary.AppendUvarint(key, w.place(s))
	}
	at, ok := w.lists[string(key)]
	if !ok {
		at = uint64(len(w.lists))
		w.lists[string(key)] = at
		w.list = append(w.list, key...)
	}
	return at
}

func (w *packer) plant(out []byte, p *Plant) []byte {
	for _, s := range p.packedTexts() {
		out = binary.AppendUvarint(out, w.place(*s))
	}
	for _, list := range p.packedLists() {
		out = binary.AppendUvarint(out, w.listPlace(*list))
	}
	for _, n := range p.packedCounts() {
		out = binary.AppendUvarint(out, uint64(*n))
	}
	for _, x := range p.packedNumbers() {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(*x))
	}
	return out
}

// The fields of a plant in the order in which they are packed; a test holds
// them to be all.

func (p *Plant) packedTexts() [9]*string {
	return [...]*string{&p.ID, &p.ScientificName, &p.VernacularName, &p.Form, &p.Evergreen, &p.Spreads, &p.SoldAs, &p.Notes, &p.Source}
}

func (p *Plant) packedLists() [6]*[]string {
	return [...]*[]string{&p.Zones, &p.FlowerColour, &p.NativeTo, &p.Toxic, &p.Tags, &p.Assumed}
}

func (p *Plant) packedCounts() [3]*int { return [...]*int{&p.FlowerFrom, &p.FlowerTo, &p.Line} }

func (p *Plant) packedNumbers() [10]*float64 {
	return [...]*float64{&p.SunMinH, &p.SunMaxH, &p.WetH, &p.PondMM, &p.DryD, &p.LowestC, &p.RootCM, &p.HeightCM, &p.SpreadCM, &p.Price}
}

// leastPacked is the fewest bytes that a plant is packed in.
const leastPacked = 9 + 6 + 3 + 10*8

// Unpack gives back what Pack was given, with name as the name of the table; ByID then
// looks through all plants. Damage is an error, and no number in it sets aside more
// memory than some times its length.
func Unpack(name, packed string) (*Catalogue, error) {
	if len(packed) < 4 || binary.LittleEndian.Uint32([]byte(packed[:4])) != sumOf(packed[4:]) {
		return nil, errPacked
	}
	r := unpacker{in: packed[4:]}
	if r.number(packedVersion) != packedVersion {
		return nil, errPacked
	}
	c := &Catalogue{Name: name, Digest: r.text()}
	all := r.text()
	texts := make([]string, r.count(1))
	for i := range texts {
		n := r.number(uint64(len(all)))
		texts[i], all = all[:n], all[n:]
	}
	lists := make([][]string, r.count(1))
	for i := range lists {
		if n := r.count(1); n > 0 {
			lists[i] = make([]string, n)
		}
		for k := range lists[i] {
			lists[i][k] = at(&r, texts)
		}
	}
	if n := r.count(5); n > 0 {
		c.Warnings = make([]table.Fault, n)
	}
	for i := range c.Warnings {
		c.Warnings[i] = table.Fault{File: name, Line: r.number(math.MaxInt32), Column: r.number(math.MaxInt32), Name: r.text(), Value: r.text(), Want: r.text()}
	}
	c.Plants = make([]Plant, r.count(leastPacked))
	for i := range c.Plants {
		r.plant(&c.Plants[i], texts, lists)
	}
	if r.wrong || len(r.in) > 0 {
		return nil, errPacked
	}
	return c, nil
}

// sumOf is the CRC-32C of a text, piece by piece so that it is never copied as a whole.
func sumOf(text string) (sum uint32) {
	var buffer [1 << 14]byte
	for castagnoli := crc32.MakeTable(crc32.Castagnoli); len(text) > 0; {
		n := copy(buffer[:], text)
		sum = crc32.Update(sum, castagnoli, buffer[:n])
		text = text[n:]
	}
	return sum
}

// unpacker reads on until something is wrong, then gives nothing. Texts are parts of in.
type unpacker struct {
	in    string
	wrong bool
}

// number reads a number from 0 to most.
func (r *unpacker) number(most uint64) int {
	n, used := binary.Uvarint([]byte(r.in[:min(len(r.in), binary.MaxVarintLen64)]))
	if used <= 0 || n > most {
		r.fail()
		return 0
	}
	r.in = r.in[used:]
	return int(n)
}

func (r *unpacker) fail() { r.wrong, r.in = true, "" }

// count reads how many things follow, of so many bytes each at least.
func (r *unpacker) count(least int) int {
	n := r.number(math.MaxInt)
	if n > len(r.in)/least {
		r.fail()
		return 0
	}
	return n
}

func (r *unpacker) text() string {
	n := r.count(1)
	s := r.in[:n]
	r.in = r.in[n:]
	return s
}

// at reads the place of one of several things.
func at[T any](r *unpacker, things []T) (t T) {
	if n := r.number(math.MaxInt32); n < len(things) {
		return things[n]
	}
	r.fail()
	return t
}

func (r *unpacker) plant(p *Plant, texts []string, lists [][]string) {
	for _, s := range p.packedTexts() {
		*s = at(r, texts)
	}
	for _, list := range p.packedLists() {
		*list = at(r, lists)
	}
	for _, n := range p.packedCounts() {
		*n = r.number(math.MaxInt32)
	}
	for _, x := range p.packedNumbers() {
		if len(r.in) < 8 {
			r.fail()
			return
		}
		*x = math.Float64frombits(binary.LittleEndian.Uint64([]byte(r.in[:8])))
		r.in = r.in[8:]
	}
}
