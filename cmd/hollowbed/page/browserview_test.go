package page_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hollowbed/testdata/testenv"
)

// The plan shows what flowers and what is green in a season or a month, not by colour alone,
// and says so in words.
func throughTheYear(t *testing.T, s stand) {
	address := s.serve(t, "").address
	for _, wide := range testenv.Of([]int64{360}, []int64{360, 768, 1280, 1920}) {
		w := s.look(t, address, looks{wide: wide, high: max(700, wide*9/16), dark: wide == 768})
		w.until(`document.querySelector('#bar').hidden`, "the places are worked out")
		assert.Equal(t, 0, ask[int](w, `document.querySelectorAll('.plan .dot').length`))
		for _, view := range []string{"Summer", "Winter", "August"} {
			w.choose("#plan-view", view)
			const plants = `.plan .plant`
			w.until(`document.querySelector('#say').textContent.startsWith('`+view+`')`, "it is said")
			assert.True(t, strings.HasPrefix(ask[string](w, `document.querySelector('#say').textContent`), w.text("#plan-season")), view)
			flower := ask[int](w, `document.querySelectorAll('`+plants+`.flower').length`)
			assert.Equal(t, flower, ask[int](w, `document.querySelectorAll('`+plants+` .dot').length`), view)
			assert.Equal(t, view != "Winter", flower > 0, view)
			assert.Equal(t, view == "Winter", ask[int](w, `document.querySelectorAll('`+plants+`.bare').length`) > 0, view)
			assert.Equal(t, ask[int](w, `document.querySelectorAll('`+plants+`').length`), ask[int](w, `document.querySelectorAll('`+plants+`:is(.flower, .green, .bare)').length`), view)
			w.do(`document.querySelector('.plan').scrollIntoView({block: 'center'})`)
			w.sound(view)
			w.shot(fmt.Sprintf("%s-%d", view, wide))
		}
		w.choose("#plan-view", "")
		assert.True(t, ask[bool](w, `document.querySelector('#plan-season').hidden && !document.querySelector('.plan .dot') && document.querySelectorAll('.plan .figure').length > 0`))
	}
}
