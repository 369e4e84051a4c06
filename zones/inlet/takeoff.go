package inlet

import (
	"math"
	"strings"
)

// Item is one thing to buy or to move.
type Item struct {
	Name   string
	Unit   string // "m", "m2", "m3" or "pieces"
	Net    float64
	Waste  float64 // share added
	Order  float64 // Net with waste; pieces are whole and have none
	SizeMM float64 // diameter, thickness or stone size; 0 if it has none
	Note   string
	EachM  float64 // length that "{each}" stands for in name and note
	Source string
}

// Said is what it is called and what to know of it, with lengths as they are shown.
func (i Item) Said(length func(m float64) string) (name, note string) {
	each := strings.NewReplacer("{each}", length(i.EachM))
	return each.Replace(i.Name), each.Replace(i.Note)
}

// Waste: common practice, no source.
const (
	pipeWaste  = 0.05
	sheetWaste = 0.10
	rockWaste  = 0.10
	strapM     = 3 * footM   // between straps of an extension
	linerMM    = 0.762       // 30 mil
	cleanoutM  = 100 * footM // between places to clear a pipe from; International Plumbing Code 708, from memory
)

func item(name, unit string, net, waste, sizeMM float64, note string) Item {
	return Item{Name: name, Unit: unit, Net: net, Waste: waste, Order: net * (1 + waste), SizeMM: sizeMM, Note: note, Source: practice}
}

func each(lengthM float64, i Item) Item {
	i.EachM = lengthM
	return i
}

// add leaves out what there is none of.
func (w *Way) add(items ...Item) {
	for _, i := range items {
		if i.Net > 1e-6 {
			w.Items = append(w.Items, i)
		}
	}
}

// soil is alike in every way.
func (w *Way) addSoil() {
	w.add(
		item("soil to dig along the way", "m3", w.Earth.CutM3, 0, 0, "as it lies in the ground"),
		item("soil back into the trench", "m3", w.Earth.BackM3, 0, 0, "tamped in layers"),
		item("soil for berm or banks", "m3", w.Earth.MoundM3, settle-1, 0, "from the middle of the bed first"),
		item("soil to bring in", "m3", w.Earth.ImportM3, 0, 0, "free of stones against a pipe"),
		item("soil left over", "m3", w.Earth.LeftM3, 0, 0, "spread it where no water runs against a building or to the neighbours"),
	)
}

func (w *Way) addPad() {
	w.add(
		item("rock for the splash pad", "m3", w.Pad.RockM3, rockWaste, w.Pad.RockMM, "set it flush, so that water does not run round it"),
		item("filter cloth below the pad", "m2", pieceM2(w.Pad), sheetWaste, 0, "keeps the soil from washing out between the stones"),
	)
}

func pieceM2(p pad) float64 { return p.LengthM * p.WidthM }

// pipeItems counts the pipe along its slope, in sticks with a coupling between.
func (j job) pipeItems(w *Way) {
	lengthM := math.Hypot(w.LengthM, (w.StartMM-w.OutletMM)/1000)
	sticks := math.Ceil(lengthM*(1+pipeWaste)/stickM - 1e-9)
	w.add(
		item("pipe, "+j.Material, "m", lengthM, pipeWaste, j.PipeMM, "approved for use underground"),
		each(stickM, item("sticks of {each}", "pieces", sticks, 0, j.PipeMM, "the same pipe")),
		item("coupling", "pieces", sticks-1, 0, j.PipeMM, "none for pipe with sockets"),
		item("adapter from downspout to pipe", "pieces", 1, 0, j.PipeMM, ""),
		item("bend of 45 degrees", "pieces", 2, 0, j.PipeMM, "two in place of one sharp elbow"),
		item("standpipe tee with cap", "pieces", math.Max(1, math.Ceil(lengthM/cleanoutM)), 0, j.PipeMM, "to clear the pipe; keep it capped"),
		item("outlet grate", "pieces", 1, 0, j.PipeMM, "keeps animals out; lift it off to clean"),
		item("gravel under the pipe", "m3", w.Earth.GravelM3, rockWaste, 0, ""),
	)
	w.addPad()
	w.addSoil()
}

func (j job) swaleItems(w *Way) {
	w.add(
		item("liner, 30 mil", "m2", w.LinerLengthM*j.LinerWidthM, sheetWaste, linerMM, "lapped downhill, turned up at the wall"),
		item("gravel over the liner", "m3", w.Earth.GravelM3, rockWaste, 0, "rounded, so that it does not pierce the liner"),
		item("adapter and elbow at the downspout", "pieces", 1, 0, 0, "lets the water out onto rock, away from the wall"),
	)
	w.addPad()
	w.addSoil()
}

func (j job) surfaceItems(w *Way) {
	w.add(
		item("extension of the downspout", "m", w.ExtensionM, pipeWaste, 0, "smooth, same section as the downspout"),
		item("elbow", "pieces", 1, 0, 0, ""),
		each(strapM, item("strap or stake", "pieces", math.Ceil(w.ExtensionM/strapM), 0, 0, "one each {each}")),
	)
	w.addPad()
	w.addSoil()
}
