package zones

// Units is the system that figures are shown in. Inside, all is SI.
type Units string

// The two systems.
const (
	UnitsUS     Units = "us"
	UnitsMetric Units = "metric"
)
