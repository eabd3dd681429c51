package page

import (
	"os"
	"path/filepath"
	"testing"

	"example.com/momentarm/examples/internal/headless"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// Pictures of the page at the sizes of a phone, a laptop and on paper, for a person
// to look at, go to the folder that REPORT_PICTURES names: of a whole report, and of
// some that lack what it has.
func TestPictures(t *testing.T) {
	dir := os.Getenv("REPORT_PICTURES")
	if dir == "" {
		t.Skip("set REPORT_PICTURES to a folder for pictures of the page")
	}
	compared := made(t, synth.Config{}, swing.Options{}, nil)
	if err := compared.Find(screen.Options{}); err != nil {
		t.Fatal(err)
	}
	if err := compared.Hold(made(t, synth.Config{Style: synth.SmallArm}, swing.Options{}, nil)); err != nil {
		t.Fatal(err)
	}
	pages := map[string]*Subject{
		"whole": demoSubject(t), "compared": compared,
		"mat":     made(t, synth.Config{}, swing.Options{}, onMat),
		"unknown": made(t, synth.Config{Style: synth.HangBack}, swing.Options{}, noMarks),
		"one":     made(t, synth.Config{}, swing.Options{}, onePlate),
	}
	tab := headless.Open(t, "about:blank")
	for name, s := range pages {
		to := func(what string) string { return filepath.Join(dir, name+"-"+what) }
		tab.Size(headless.Laptop)
		tab.Go(headless.File(write(t, name+".html", []byte(pageOf(t, s))), ""))
		tab.Print(to("paper.pdf"))
		tab.Picture(to("laptop.png"), headless.Whole)
		tab.Size(headless.Phone)
		tab.Picture(to("phone.png"), headless.Whole)
		tab.Size(headless.Laptop)
		tab.Eval(`Array.from(document.querySelectorAll("#time svg.chart.wide")).slice(0, 3).pop().scrollIntoView({block: "center"})`)
		tab.Press("ArrowRight")
		tab.Picture(to("scrubbed.png"), headless.Window)
		for _, eyes := range []string{"achromatopsia", "deuteranopia"} {
			tab.See(eyes)
			tab.Picture(to(eyes+".png"), headless.Window)
		}
		tab.See("none")
	}
}
