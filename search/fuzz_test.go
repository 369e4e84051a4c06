package search

import (
	"bytes"
	"errors"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever the bytes: no panic, and a wrong table is told as the user's.
func FuzzReadSynonyms(f *testing.F) {
	demo, err := os.ReadFile("../data/synonyms.csv")
	require.NoError(f, err)
	f.Add(demo)
	f.Add([]byte("words,means,basis\nbog|swamp,wet:48,x\n"))
	f.Add([]byte("words,means,basis\n\"a\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := ReadSynonyms("synonyms.csv", bytes.NewReader(text))
		if err == nil {
			require.NotNil(t, s)
			return
		}
		var bad interface{ BadInput() bool }
		require.True(t, errors.As(err, &bad) && bad.BadInput(), "%v", err)
	})
}
