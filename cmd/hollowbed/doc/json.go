package doc

import "encoding/json"

// Blocks are blocks that stand in a document of the local page.
type Blocks []Block

// MarshalJSON writes them as JSON gives them.
func (b Blocks) MarshalJSON() ([]byte, error) { return json.Marshal(JSON(b)) }

// JSON gives the blocks that the local page shows, each under its kind:
// {"text": {"words": "…"}}.
func JSON(blocks []Block) []map[string]Block {
	out := []map[string]Block{}
	for _, b := range ready(blocks) {
		switch b := b.(type) {
		case Line:
			continue
		case Picture:
			if b.Src == "" {
				continue
			}
		case Text:
			if b.Words == "" {
				continue
			}
		}
		out = append(out, map[string]Block{b.kind(): b})
	}
	return out
}
