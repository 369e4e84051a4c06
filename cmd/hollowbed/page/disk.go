package page

import (
	"crypto/sha256"
	"encoding/hex"
)

// conflict says that the files on disk are no longer those of the draft.
type conflict struct {
	Words    string     `json:"words"`
	Files    []fileDiff `json:"files"`
	Revision string     `json:"revision"` // of the files on disk
}

// fileDiff shows the lines in which draft and disk differ, with some around.
type fileDiff struct {
	Name  string     `json:"name"`
	Lines []diffLine `json:"lines"`
}

// diffLine is a line of both (" "), of the draft ("-") or of the disk ("+").
type diffLine struct {
	Sign string `json:"sign"`
	Text string `json:"text"`
}

// revision names the texts of the files.
func (d draft) revision() string {
	sum := sha256.Sum256([]byte(d.garden + "\x00" + d.planted))
	return hex.EncodeToString(sum[:])
}
