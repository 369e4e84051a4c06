package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/plants"
	"hollowbed/plants/season"
)

// A plant that does well is said to make room if its place harms it little, or no
// more than where it goes; else that nothing was seen of it yet.
func TestWhyFinePlantsMove(t *testing.T) {
	var d Move
	fine := season.Diagnosis{Case: season.Case{Plant: "A1"}, Top: season.Fine, TopP: 1}
	fine.Chance[0] = 1
	assert.Equal(t, "it makes room, and does as well there.", d.whyMoved(plants.PlantMove{Cause: fine, LossNow: 0.2, LossThen: 0.1}))
	assert.Equal(t, "it makes room.", d.whyMoved(plants.PlantMove{Cause: fine, LossNow: 0.5, LossThen: 0.6}))
	assert.Contains(t, d.whyMoved(plants.PlantMove{Cause: fine, LossNow: 0.6, LossThen: 0.3}), "no trouble was seen of it yet;")
	waits := season.Diagnosis{Case: season.Case{Plant: "A1"}, Top: season.Slow, TopP: 0.8, Wait: true}
	waits.Chance[6] = 0.8
	assert.Equal(t, "it makes room. How it does is too early to tell: slow to establish 80 %.", d.whyMoved(plants.PlantMove{Cause: waits, LossNow: 0.2, LossThen: 0.2}))
	assert.True(t, makesRoom(plants.PlantMove{Cause: waits, LossNow: 0.6, LossThen: 0.2}))
	struck := season.Diagnosis{Case: season.Case{Plant: "A1"}, Top: season.Other, TopP: 0.9, Accident: "eaten"}
	struck.Chance[7] = 0.9
	assert.Equal(t, "it makes room. What struck it no other place would mend: eaten 90 %.", d.whyMoved(plants.PlantMove{Cause: struck, LossNow: 0.6, LossThen: 0.2}))
	assert.True(t, makesRoom(plants.PlantMove{Cause: struck, LossNow: 0.6, LossThen: 0.2}))
	dry := season.Diagnosis{Case: season.Case{Plant: "A1"}, Top: season.TooDry, TopP: 0.9}
	dry.Chance[3] = 0.9
	assert.NotContains(t, d.whyMoved(plants.PlantMove{Cause: dry, LossNow: 0.6, LossThen: 0.2}), "makes room")
	assert.False(t, makesRoom(plants.PlantMove{Cause: dry, LossNow: 0.6, LossThen: 0.2}))
}
