package main

import (
	"fmt"
	"io"
	"text/tabwriter"
)

// text prints a result as aligned tables.
func (r *result) text(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "%d made-up gardens, %d plants, %d seasons, seed %d. In brackets: 95 %% of %d draws of gardens.\n\n",
		r.Truth.Gardens, r.Plants, r.Truth.Seasons, r.Truth.Seed, resamples)
	fmt.Fprintln(t, "policy\talive at the end\tplant-seasons alive\twithout trouble\tmoves a garden\tneedless\t")
	for _, p := range r.Policies {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%.2f\t%s\t\n", p.Policy, p.Alive.percent(), p.Lived.percent(), p.Well.percent(), p.Moves, none(p.Moves > 0, p.Needless.percent()))
	}
	fmt.Fprintln(t)
	fmt.Fprintln(t, "policy\tgain over nothing\tof the oracle's\tof the kind oracle's\tplant-seasons alive\twithout trouble\t")
	for _, p := range r.Policies[1:] {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t\n", p.Policy, p.Gain.points(), p.OfOracle.percent(), p.OfKind.percent(), p.OfLived.percent(), p.OfWell.percent())
	}
	fmt.Fprintln(t)
	fmt.Fprintln(t, "chances stated\tBrier score\tcalibration error\tsaid on average\tcame\t")
	for _, p := range r.Policies {
		if p.Brier > 0 {
			fmt.Fprintf(t, "%s\t%.4f\t%.4f\t%.3f\t%.3f\t\n", p.Policy, p.Brier, p.CalibrationError, p.Said, p.Came)
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "\nours less labels, alive at the end: %s\n", r.OursLessLabels.points())
	fmt.Fprintf(w, "ours with all gardens' notes less with its own alone: %s\n", r.OursLessAlone.points())
	fmt.Fprintf(w, "calibration error of ours: %.4f (%.4f to %.4f)\n", r.Calibration.Value, r.Calibration.Low, r.Calibration.High)
	fmt.Fprintf(w, "cause stated right, of plants in trouble: %s; fine plants called fine: %s\n\n", r.CausesRight.percent(), r.Fine.percent())
	return r.tables(w)
}

// tables prints causes, reliability and what was learned.
func (r *result) tables(w io.Writer) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "true cause, and as stated\t")
	for _, c := range r.Causes {
		fmt.Fprintf(t, "%s\t", c.Cause)
	}
	fmt.Fprintln(t, "right\t")
	for _, c := range r.Causes {
		fmt.Fprintf(t, "%s\t", c.Cause)
		for _, n := range c.Stated {
			fmt.Fprintf(t, "%.0f\t", n)
		}
		fmt.Fprintf(t, "%s\t\n", none(c.Cases > 0, fmt.Sprintf("%.1f %%", 100*c.Right)))
	}
	fmt.Fprintln(t)
	fmt.Fprintln(t, "chance stated by ours\tforecasts\tsaid on average\tcame\t")
	for _, b := range r.Reliability {
		fmt.Fprintf(t, "%.2f to %.2f\t%.0f\t%.3f\t%.3f\t\n", b.From, b.To, b.Forecasts, b.Said, b.Came)
	}
	fmt.Fprintln(t)
	fmt.Fprintln(t, "limit learned by ours\tspecies\terror of the catalogue\terror after the last season\twithin its 90 % interval\t")
	for _, l := range r.Learned {
		fmt.Fprintf(t, "%s\t%d\t%.3f\t%.3f\t%.0f %%\t\n", l.Limit, l.Species, l.Before, l.After, 100*l.Within)
	}
	return t.Flush()
}

func none(have bool, text string) string {
	if !have {
		return "-"
	}
	return text
}

func (i interval) percent() string {
	return fmt.Sprintf("%.1f %% (%.1f to %.1f)", 100*i.Value, 100*i.Low, 100*i.High)
}

func (i interval) points() string {
	return fmt.Sprintf("%+.2f points (%+.2f to %+.2f)", 100*i.Value, 100*i.Low, 100*i.High)
}
