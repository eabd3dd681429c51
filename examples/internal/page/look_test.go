package page

import (
	"os"
	"path/filepath"
	"testing"

	"example.com/momentarm/examples/internal/headless"
)

// Pictures of the page at the sizes of a phone, a laptop and on paper, for a person
// to look at, go to the folder that REPORT_PICTURES names.
func TestPictures(t *testing.T) {
	dir := os.Getenv("REPORT_PICTURES")
	if dir == "" {
		t.Skip("set REPORT_PICTURES to a folder for pictures of the page")
	}
	tab := headless.Open(t, headless.File(write(t, "page.html", []byte(pageOf(t, demoSubject(t)))), ""))
	for name, size := range map[string]headless.Screen{"laptop.png": headless.Laptop, "phone.png": headless.Phone} {
		tab.Size(size)
		tab.Picture(filepath.Join(dir, name), headless.Whole)
	}
	tab.Size(headless.Laptop)
	tab.Eval(`document.querySelectorAll("svg.chart.wide")[2].scrollIntoView({block: "center"})`)
	tab.Press("ArrowRight")
	tab.Picture(filepath.Join(dir, "laptop-scrubbed.png"), headless.Window)
	tab.Print(filepath.Join(dir, "paper.pdf"))
}
