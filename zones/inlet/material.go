package inlet

// pipeMaterial is what a pipe is made of. N is Manning's n of its inner wall.
type pipeMaterial struct {
	Name   string
	N      float64
	Source string
}

const sourceWinchester = "Winchester (Indiana) drainage code, Table 4, after US Federal Highway Administration"

// pipeMaterials are those of pipes. Of 0.018 to 0.025, corrugated takes the higher.
func pipeMaterials() []pipeMaterial {
	return []pipeMaterial{
		{"pvc", 0.010, sourceWinchester + "; Austin Drainage Criteria Manual, Table 5-2 (smooth plastic)"},
		{"smooth hdpe", 0.011, sourceWinchester},
		{"corrugated hdpe", 0.025, "general table of Manning's n, corrugated polyethylene with corrugated inner wall 0.018 to 0.025, second-hand"},
		{"clay", 0.013, sourceWinchester},
		{"cast iron", 0.013, sourceWinchester},
		{"concrete", 0.013, sourceWinchester},
	}
}

// MaterialNames lists the names of pipeMaterials, in order.
func MaterialNames() []string {
	var names []string
	for _, m := range pipeMaterials() {
		names = append(names, m.Name)
	}
	return names
}

func material(name string) (pipeMaterial, bool) {
	for _, m := range pipeMaterials() {
		if m.Name == name {
			return m, true
		}
	}
	return pipeMaterial{}, false
}

// Roughness of what is not pipe. Rock and grass: Winchester Table 4 after the
// Federal Highway Administration (riprap dumped, swale with grass). Sheet
// metal: smooth steel in general tables, second-hand.
const (
	rockN  = 0.035
	grassN = 0.05
	sheetN = 0.012
)

// bareMS is the velocity, m/s, that bare soil of a texture class bears: 1.5, 2.0 or 2.5
// ft/s for sands and loams (and for loam, not in the table, and ""), clay loams, clays.
// Source: Minnesota Stormwater Manual, maximum runoff velocity by soil type, bare channel
// (read).
func bareMS(texture string) float64 {
	const fps = 0.3048
	switch texture {
	case "clay", "silty clay", "sandy clay":
		return 2.5 * fps
	case "clay loam", "silty clay loam", "sandy clay loam":
		return 2.0 * fps
	}
	return 1.5 * fps
}

// grassMS is the velocity that a lawn of fine grasses bears on easily eroded
// soil, slopes up to 5 %: 2.5 ft/s. Source: US Soil Conservation Service 1954,
// SCS-TP-61 (redtop, red fescue), as printed in municipal codes (read).
const grassMS = 2.5 * 0.3048

// rockMS is the velocity that coarse gravel bears: 4.0 ft/s in clear water.
// Source: Fortier and Scobey 1926, from memory (6.0 ft/s in water with silt was
// read, North Carolina 15A NCAC 04B .0109).
const rockMS = 4.0 * 0.3048
