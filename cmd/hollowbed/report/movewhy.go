package report

import (
	"hollowbed/plants"
)

// makesRoom says whether a plant moves for the sake of another: it waits, or is not
// seen to struggle, and where it stands harms it little or no more than where it goes.
func makesRoom(m plants.PlantMove) bool {
	const little = 0.25 // chance to struggle in the seasons looked at
	if m.Cause.Case.Plant != "" && m.Cause.Struggles() {
		return waits(m)
	}
	return m.LossNow <= little || m.LossThen >= m.LossNow
}

// waits says whether a plant struggles for what is no reason to move it: one that
// is too early to tell, or an accident.
func waits(m plants.PlantMove) bool {
	return m.Cause.Case.Plant != "" && m.Cause.Struggles() && (m.Cause.Wait || m.Cause.Accident != "")
}

// whyMoved says why a plant is moved.
func (d Move) whyMoved(m plants.PlantMove) string {
	switch {
	case waits(m) && m.Cause.Accident != "":
		return "it makes room. What struck it no other place would mend: " + d.why(m.Cause)
	case waits(m):
		return "it makes room. How it does is too early to tell: " + d.why(m.Cause)
	case makesRoom(m) && m.LossThen < m.LossNow+0.05:
		return "it makes room, and does as well there."
	case makesRoom(m):
		return "it makes room."
	case m.Cause.Case.Plant == "":
		return "nothing was seen of it; judged by what it tolerates and what the place does. Look at it first."
	case !m.Cause.Struggles():
		return "no trouble was seen of it yet; by what was learned of its kind the place may harm it. It can wait until you see it."
	}
	return d.why(m.Cause)
}

// toBeSure says what to look for before a plant is moved; "" for nothing.
func (d Move) toBeSure(m plants.PlantMove) string {
	if m.Cause.Case.Plant == "" || !m.Cause.Struggles() || m.Cause.TopP >= 0.9 {
		return ""
	}
	row, ok := d.in.lookFor(m.Cause)
	if !ok {
		return ""
	}
	return ended(row.Look)
}
