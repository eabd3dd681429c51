package page

import (
	"encoding/json"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// onMat takes away what a pressure mat does not measure.
func onMat(rec *grf.Recording) {
	for _, ws := range [][]grf.Wrench{rec.Lead, rec.Trail, rec.Net} {
		for i := range ws {
			ws[i] = ws[i].WithoutHorizontal()
		}
	}
}

// The page of a swing on a mat says what was not measured, in the charts too, and
// has scales all the same; no value of it is a zero in the results.
func TestVerticalOnlyReport(t *testing.T) {
	for name, change := range map[string]func(*grf.Recording){
		"feet apart": onMat,
		"one mat":    func(rec *grf.Recording) { onePlate(rec); onMat(rec) },
	} {
		t.Run(name, func(t *testing.T) {
			s := made(t, synth.Config{}, swing.Options{}, change)
			page, err := s.HTML()
			if err != nil {
				t.Fatal(err)
			}
			html := string(page)
			if strings.Contains(html, ">NaN") || strings.Contains(html, `"NaN`) || strings.Contains(html, " NaN") {
				t.Error("the page holds an undefined number")
			}
			// Lateral force, torque and arm say why they are not there, without an axis.
			if n := strings.Count(html, ">n/a: "+grf.NoHorizontal+"</p>"); n != 3 {
				t.Errorf("%d charts say what was not measured, want 3", n)
			}
			if n := strings.Count(html, `<svg class="chart`); n != 2 {
				t.Errorf("%d charts are drawn, want the vertical force in two sizes", n)
			}
			if !strings.Contains(html, "torque is not available: "+grf.NoHorizontal) || strings.Contains(html, `<div class="equation"`) {
				t.Error("an equation without values, or no word about it")
			}
			if strings.Contains(html, "n/a N for each cm") {
				t.Error("the picture of the forces has no scale")
			}
			data, err := s.JSON()
			if err != nil {
				t.Fatal(err)
			}
			var r struct {
				Measures []struct {
					Name  string   `json:"name"`
					Value *float64 `json:"value"`
					Note  string   `json:"note"`
				} `json:"measures"`
			}
			if err := json.Unmarshal(data, &r); err != nil {
				t.Fatal(err)
			}
			torques := 0
			for _, m := range r.Measures {
				if m.Value == nil && m.Note == "" {
					t.Errorf("%s is null without a reason", m.Name)
				}
				if !strings.Contains(m.Name, "torque") {
					continue
				}
				torques++
				if m.Value != nil || !strings.Contains(m.Note, grf.NoHorizontal) {
					t.Errorf("%s: %v, %q", m.Name, m.Value, m.Note)
				}
			}
			if torques < 5 {
				t.Errorf("%d measures of torque are listed", torques)
			}
		})
	}
}
