package draw

// foot writes what stands under the plan and returns where it ends.
func (d *planDraw) foot(y float64) float64 {
	d.scaleBar(margin+3, y+1, 62, d.v.sc, d.in.Units.Metric)
	right := lettering{size: small, anchor: "end", colour: soft}
	d.text(pageW-margin, y+2.4, "Lengths are level, not along the slope.", right)
	if d.in.A != nil && d.in.B != nil {
		d.text(pageW-margin, y+6, "How far each plant is from A and B: setting-out table of the report.", right)
	}
	y += 13
	d.smallHead(margin, y, "Ground and marks")
	y = d.entries(y+2.6, d.rows, 3) + 1
	if d.led > 0 {
		d.text(margin, y+2, plural(d.led, "label", "labels")+" found no room in the plan; the setting-out table of the report has every plant.", lettering{size: small})
		y += 5
	}
	return d.titleBlock(y)
}

// titleBlock says whose plan this is, of which day and state, with room for a name.
func (d *planDraw) titleBlock(y float64) float64 {
	const high = 9.6
	d.rect(box{margin, y, pageW - margin, y + high}, stroke(ink, 0.3))
	x := margin
	for i, cell := range []struct {
		head, words string
		w           float64
	}{{"Garden", d.in.Block.Garden, 76}, {"Date", d.in.Block.Date, 26}, {"Revision", d.in.Block.Revision, 26}, {"Drawn by", "", 44}} {
		if i > 0 {
			d.line(x, y, x, y+high, stroke(ink, 0.2))
		}
		d.text(x+1.5, y+3.6, cell.head, lettering{size: small, colour: soft})
		if cell.words != "" {
			d.text(x+1.5, y+8, fit(cell.words, small, cell.w-3), lettering{size: small})
		}
		x += cell.w
	}
	return y + high
}
