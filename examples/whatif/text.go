package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
	"example.com/momentarm/units"
)

// text is the answers for reading, within 79 columns.
func (a *answers) text() string {
	var b page
	b.line("%s", safe.Plain(a.heading()))
	b.line("What would change the turning? Mechanics at one instant with everything else")
	b.line("held fixed. In a body nothing else stays fixed: no forecast, and no advice.")
	for _, i := range a.instants {
		b.line("")
		a.instantText(&b, i)
	}
	for _, m := range a.missing {
		b.line("")
		b.line("No answer at the %s: %s", peakWords(m.Name), safe.Plain(m.Reason))
	}
	b.line("")
	fourText(&b, a.instants[0])
	return b.String()
}

// heading says whose swing it is.
func (a *answers) heading() string {
	switch {
	case a.demo:
		return a.swing.Player + " (demonstration: golfer and swing are made up)"
	case a.swing.Player != "":
		return a.swing.Player + ", " + a.swing.Capture
	}
	return a.swing.Capture
}

func peakWords(name phase.Name) string {
	if name == phase.FrontalTorquePeak {
		return "peak of the frontal torque (turning seen face-on)"
	}
	return "peak of the torque about the vertical axis (turning seen from above)"
}

func (a *answers) instantText(b *page, i instant) {
	m := of(i.plane, i.state.Moment())
	b.line("At the %s,", peakWords(i.event.Name))
	b.line("%s:", a.when(i.event))
	b.line("  %s N·m%s, %s lbf·ft = %s", fixed(m, 0), spread(of(i.plane, i.sd), 0), fixed(poundFeet(m), 0), i.product())
	b.line("")
	row := func(label string, cells ...string) {
		line := "  " + pad(label, 33)
		for k, width := range []int{7, 8, 7, 5, 8, 8} {
			if k < len(cells) {
				line += padLeft(cells[k], width)
			}
		}
		b.line("%s", line)
	}
	row("What if there were", "torque", "", "change", "", "", "")
	row("", "N·m", "lbf·ft", "N·m", "±", "lbf·ft", "%")
	row("the same as measured", fixed(m, 0), fixed(poundFeet(m), 0))
	for _, q := range i.answers {
		to, change := of(i.plane, q.change.To), of(i.plane, q.moved())
		row(q.label, fixed(to, 0), fixed(poundFeet(to), 0),
			signed(change, 1), fixed(of(i.plane, q.sd), 1), signed(poundFeet(change), 1), signed(100*of(i.plane, q.change.Relative()), 1))
	}
	b.line("  ±: from where the centre of mass is. %s.", explain(a.ask, a.swing.BodyWeight))
	b.line("")
	b.line("  One per cent more of      changes it by         N·m           lbf·ft")
	cause := func(label string, e torque.Planes, slope string) {
		b.line("  %s%s %%%s", pad(label, 26), padLeft(signed(of(i.plane, e), 2), 11), slope)
	}
	perForce := func(p torque.Planes) string {
		s := of(i.plane, p)
		return padLeft(signed(s, 3), 12) + " per N  " + padLeft(signed(units.Length(s).In(units.Foot), 2), 9) + " per lbf"
	}
	e, s := i.elasticity, i.slopes
	cause("forward force", e.Forward, perForce(s.Forward))
	cause("lateral force", e.Lateral, perForce(s.Lateral))
	cause("vertical force", e.Vertical, perForce(s.Vertical))
	arm := of(i.plane, s.Arm)
	cause("all of the force, or arm", e.ForceSize,
		padLeft(signed(arm*float64(units.Centimetre), 1), 12)+" per cm "+padLeft(signed(poundFeet(arm*float64(units.Inch)), 1), 9)+" per in")
	if i.plane != torque.Horizontal {
		return
	}
	if math.IsNaN(i.pivoting) {
		cause("free moment", e.Free, "")
		return
	}
	foot := torque.Planes{Horizontal: i.pivotingElasticity()}
	cause("push foot against foot", foot, "")
	cause("twist of the feet", e.Free.Sub(foot), "")
}

// product writes what the torque is made of.
func (i instant) product() string {
	text := fmt.Sprintf("%s N (%s lbf) × %s m (%s in) of arm",
		fixed(i.force, 0), fixed(units.Force(i.force).In(units.PoundForce), 0), fixed(i.arm, 3), fixed(units.Length(i.arm).In(units.Inch), 1))
	if i.plane == torque.Horizontal {
		text += fmt.Sprintf("\n  and %s N·m (%s lbf·ft) of free moment", fixed(i.state.Free, 0), fixed(poundFeet(i.state.Free), 0))
		if !math.IsNaN(i.pivoting) {
			text += fmt.Sprintf(",\n  of it %s N·m from the feet pushing opposite ways", fixed(i.pivoting, 0))
		}
	}
	return text
}

// when says when an event was.
func (a *answers) when(e phase.Event) string {
	impact, ok := a.swing.Events.Get(phase.Impact)
	text := fixed(e.Time, 3) + " s on the recording's clock"
	if !ok {
		return text
	}
	word := "before"
	if impact.Time < e.Time {
		word = "after"
	}
	text = fmt.Sprintf("%s s %s impact, ", fixed(math.Abs(impact.Time-e.Time), 3), word) + text
	if impact.Source == phase.Estimated {
		text += " (impact is an estimate)"
	}
	return text
}

// fourText shows that force and arm count alike, with round numbers and with those
// of the swing.
func fourText(b *page, i instant) {
	b.line("Four times the force at one foot of arm turns as hard as one time at four feet:")
	row := func(label string, force, arm, torque float64) {
		b.line("  %s%s%s%s%s%s%s", pad(label, 25),
			padLeft(fixed(force, 0), 8), padLeft(fixed(units.Force(force).In(units.PoundForce), 0), 6),
			padLeft(fixed(arm, 3), 10), padLeft(fixed(units.Length(arm).In(units.Foot), 2), 8),
			padLeft(fixed(torque, 1), 10), padLeft(fixed(poundFeet(torque), 1), 9))
	}
	b.line("  %s%s%s%s%s%s%s", pad("", 25), padLeft("force N", 8), padLeft("lbf", 6), padLeft("arm m", 10), padLeft("ft", 8), padLeft("N·m", 10), padLeft("lbf·ft", 9))
	const pound, foot = float64(units.PoundForce), float64(units.Foot)
	s := torque.State{Force: r3.Vec{Z: 100 * pound}, Pressure: r3.Vec{Y: foot}, Mass: r3.Vec{Z: 3 * foot}}
	row("100 lbf at 1 ft", 100*pound, foot, s.Moment().Frontal)
	row("four times the force", 400*pound, foot, s.ScaleForce(r3.Vec{X: 4, Y: 4, Z: 4}).Moment().Frontal)
	row("four times the arm", 100*pound, 4*foot, s.LengthenArm(torque.Frontal, 3*foot).Moment().Frontal)
	label := "this swing, " + i.plane.String()
	if i.plane == torque.Horizontal {
		label = "this swing, force alone"
	}
	row(label, i.force, i.arm, i.four.once)
	row("four times the force", 4*i.force, i.arm, i.four.force)
	row("four times the arm", i.force, 4*i.arm, i.four.arm)
}

func poundFeet(moment float64) float64 { return units.Moment(moment).In(units.PoundForceFoot) }

// page collects lines.
type page struct{ strings.Builder }

func (p *page) line(format string, a ...any) {
	p.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n")
}

// fixed writes a number with decimals, with the sign that people read and without
// a negative zero; "n/a" when it is undefined.
func fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "n/a"
	}
	text := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && strings.ContainsAny(text, "123456789") {
		text = "−" + text
	}
	return text
}

// signed is fixed with a plus sign before what is above zero.
func signed(v float64, decimals int) string {
	text := fixed(v, decimals)
	if v > 0 && strings.ContainsAny(text, "123456789") {
		text = "+" + text
	}
	return text
}

// spread writes " ± 9", nothing when it is unknown.
func spread(sd float64, decimals int) string {
	if !(sd > 0) || math.IsInf(sd, 0) {
		return ""
	}
	return " ± " + fixed(sd, decimals)
}

func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}

func padLeft(s string, width int) string {
	return strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s))) + s
}
