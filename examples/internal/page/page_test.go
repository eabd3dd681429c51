package page

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"math"
	"regexp"
	"strings"
	"testing"

	"crypto/sha256"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

func pageOf(t *testing.T, s *Subject) string {
	t.Helper()
	data, err := s.HTML()
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// text is what a reader sees of a page.
func text(page string) string {
	page = regexp.MustCompile(`(?s)<(script|style|svg)\b.*?</(script|style|svg)>`).ReplaceAllString(page, " ")
	page = regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, " ")
	page = strings.ReplaceAll(html.UnescapeString(page), nbsp, " ")
	return strings.Join(strings.Fields(page), " ")
}

func TestPageStandsAlone(t *testing.T) {
	page := pageOf(t, demoSubject(t))
	for _, bad := range []string{"http:", "https:", " src=", "@import", "url(//", "<link rel=\"stylesheet", "<iframe", "<img"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page contains %q", bad)
		}
	}
	for _, m := range regexp.MustCompile(`(?:href|url)(?:="|\()([^")]*)`).FindAllStringSubmatch(page, -1) {
		if !strings.HasPrefix(m[1], "#") && m[1] != "data:," {
			t.Errorf("the page refers to %q", m[1])
		}
	}
	if len(page) > 1<<20 {
		t.Errorf("the page has %d bytes", len(page))
	}
}

// The policy of the page lets exactly its own script run.
func TestPagePolicy(t *testing.T) {
	page := pageOf(t, demoSubject(t))
	scripts := regexp.MustCompile(`(?s)<script>(.*?)</script>`).FindAllStringSubmatch(page, -1)
	if len(scripts) != 1 {
		t.Fatalf("%d scripts, want 1", len(scripts))
	}
	sum := sha256.Sum256([]byte(scripts[0][1]))
	want := "script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	if !strings.Contains(html.UnescapeString(page), want) {
		t.Errorf("the policy does not hold %s", want)
	}
	if strings.Contains(page, "onload=") || strings.Contains(page, "onclick=") {
		t.Error("an inline handler, which the policy forbids")
	}
}

// What a file or a setup says stays text.
func TestPageEscapes(t *testing.T) {
	const bad = `</script><script>alert("x")</script><b onmouseover='y'>&\u2028`
	s := demoSubject(t)
	s.Capture, s.Player, s.Session = bad, bad, bad
	s.Steps = append(s.Steps, bad)
	s.Warnings = append(s.Warnings, grf.Warning{Code: bad, Where: bad, Text: bad})
	s.Measures = append(s.Measures, swing.Measure{Name: bad, Label: bad, Unit: bad, Note: bad, Value: 1})
	s.Events.Missing = append(s.Events.Missing, phase.Missing{Name: bad, Reason: bad})
	s.Events.Found = append(s.Events.Found, phase.Event{Name: bad, Time: s.Events.Time(phase.Impact) + 0.1})
	page := pageOf(t, s)
	if strings.Contains(page, "<script>alert") || strings.Contains(page, "<b onmouseover") {
		t.Error("markup of the capture got into the page")
	}
	if n := strings.Count(page, "<script"); n != 2 {
		t.Errorf("%d script elements, want 2", n)
	}
	if !strings.Contains(text(page), `alert("x")`) {
		t.Error("the text itself was lost")
	}
	if strings.Count(page, "</svg>") < 10 {
		t.Error("drawings are missing")
	}
}

func TestSummaryEscapes(t *testing.T) {
	s := demoSubject(t)
	s.Player = "a\x1b[2Jb\u202ec\nd"
	s.Warnings = append([]grf.Warning{{Code: "c", Text: "x\x07y"}}, s.Warnings...)
	out := s.Summary(nil)
	for _, bad := range []string{"\x1b", "\x07", "\u202e"} {
		if strings.Contains(out, bad) {
			t.Errorf("the summary carries %q", bad)
		}
	}
}

func TestPageSaysWhatACoachNeeds(t *testing.T) {
	s := demoSubject(t)
	said := text(pageOf(t, s))
	peak, _ := s.Measure("frontal_torque_peak")
	arm, _ := s.Measure("frontal_arm_at_peak")
	for _, want := range []string{
		demo.Player, demo.Session, "made up",
		both(s.BodyWeight, "N"),
		withSD(peak.Value, peak.SD, "N·m"), us(peak.Value, "N·m"),
		withSD(arm.Value, arm.SD, "m"), us(arm.Value, "m"),
		"lbf·ft", "given", "detected", "±",
		"not medical or training advice", "rules", "How it was computed", "Read with care",
		"The target is to the right", "the ball toward the bottom",
		"Butterworth", "seen face-on",
	} {
		if !strings.Contains(said, strings.ReplaceAll(want, nbsp, " ")) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if m := regexp.MustCompile(`n/a (N|m|s|%|N·m|lbf|in)\b`).FindString(said); m != "" {
		t.Errorf("an undefined value with a unit: %s", m)
	}
	for _, w := range s.Warnings {
		if !strings.Contains(said, strings.Join(strings.Fields(w.Text), " ")) {
			t.Errorf("the warning %q is not on the page", w.Text)
		}
	}
	// Every measure is somewhere, by itself or beside the one that it repeats.
	for _, m := range s.Measures {
		v := measuredOf(m.Value, m.SD, m.Unit).Number
		if !strings.Contains(said, v) && s.base(m.Name) == "" {
			t.Errorf("%s, %s, is not on the page", m.Name, v)
		}
	}
}

// Every unit that a measure has is one that the report knows how to write.
func TestUnitsOfMeasuresAreKnown(t *testing.T) {
	for _, m := range demoSubject(t).Measures {
		if _, ok := forms[m.Unit]; !ok {
			t.Errorf("%s is in %q, of which forms says nothing", m.Name, m.Unit)
		}
	}
}

// Whatever the swing, there is a page without a trace of NaN, and three to six
// sentences.
func TestEveryKindOfSwing(t *testing.T) {
	kinds := []struct {
		name   string
		cfg    synth.Config
		change func(*grf.Recording)
	}{
		{"one plate", synth.Config{}, onePlate},
		{"left-handed", synth.Config{Handed: grf.LeftHanded}, nil},
		{"no marks", synth.Config{}, noMarks},
		{"lead foot in the air", synth.Config{Style: synth.LeadLift}, nil},
		{"hanging back", synth.Config{Style: synth.HangBack}, noMarks},
		{"half swing", synth.Config{Style: synth.HalfSwing}, nil},
		{"low rate", synth.Config{Rate: 120}, nil},
		{"cut off", synth.Config{}, func(r *grf.Recording) {
			n := r.Index(r.Marks["impact"] + 0.05)
			r.Lead, r.Trail = r.Lead[:n], r.Trail[:n]
		}},
	}
	for _, k := range kinds {
		t.Run(k.name, func(t *testing.T) {
			s := made(t, k.cfg, swing.Options{}, k.change)
			page := pageOf(t, s)
			if i := strings.Index(page, "NaN"); i >= 0 {
				t.Errorf("NaN on the page: …%s…", page[max(0, i-80):i+20])
			}
			if i := strings.Index(page, "Inf"); i >= 0 {
				t.Errorf("Inf on the page: …%s…", page[max(0, i-80):i+20])
			}
			words := inWords(s)
			if len(words) < 3 || len(words) > 6 {
				t.Errorf("%d sentences: %q", len(words), words)
			}
			for _, w := range words {
				if strings.Contains(w, notAvailable) || !strings.HasSuffix(w, ".") {
					t.Errorf("a poor sentence: %s", w)
				}
			}
			said := text(page)
			for _, m := range s.Events.Missing {
				if !strings.Contains(said, strings.Join(strings.Fields(m.Reason), " ")) {
					t.Errorf("why %s is missing is not on the page", m.Name)
				}
			}
			if left := k.cfg.Handed == grf.LeftHanded; strings.Contains(said, "mirrored") != left {
				t.Errorf("mirrored: %v", !left)
			}
			if guess := s.Recording.Split(); strings.Contains(said, "outlines are not known") != guess {
				t.Errorf("says that the outlines are not known: %v", !guess)
			}
			impact, ok := s.Events.Get(phase.Impact)
			if sure := ok && impact.Source == phase.Given; strings.Contains(said, "Impact is an estimate") == sure || strings.Contains(s.Summary(nil), "Impact is an estimate") == sure {
				t.Errorf("says that impact is an estimate: %v", sure)
			}
		})
	}
}

// An undefined measure is n/a with its reason.
func TestUndefinedMeasure(t *testing.T) {
	s := demoSubject(t)
	for i, m := range s.Measures {
		if m.Name == "lateral_peak" {
			s.Measures[i].Value, s.Measures[i].Note = math.NaN(), "nobody pushed sideways"
		}
	}
	if said := text(pageOf(t, s)); !strings.Contains(said, "nobody pushed sideways n/a") {
		t.Error("no n/a with the reason")
	}
}

// The script's data are JSON, and the picture that the page opens with is that of
// the frame that it opens with.
func TestFramesAndStillPictureAgree(t *testing.T) {
	s := demoSubject(t)
	page := pageOf(t, s)
	data := regexp.MustCompile(`(?s)<script type="application/json" id="frames">(.*?)</script>`).FindStringSubmatch(page)
	if data == nil {
		t.Fatal("no frames")
	}
	var f struct {
		Keys   []key
		Frames []struct {
			T       float64
			Said    string
			Event   bool
			V       []*float64
			D, M, E []string
		}
		Open int
	}
	if err := json.Unmarshal([]byte(data[1]), &f); err != nil {
		t.Fatal(err)
	}
	open := f.Frames[f.Open]
	if open.T != s.Events.Time(phase.FrontalTorquePeak) || !open.Event {
		t.Errorf("opens at %v", open.T)
	}
	for i, d := range open.D {
		if want := fmt.Sprintf(`d="%s" data-part="%d"`, d, i); !strings.Contains(page, want) {
			t.Errorf("the still picture has no %s", want)
		}
	}
	for i, m := range open.M {
		if want := fmt.Sprintf(`transform="translate(%s)" data-spot="%d"`, m, i); !strings.Contains(page, want) {
			t.Errorf("the still picture has no %s", want)
		}
	}
	events := 0
	for i, fr := range f.Frames {
		if i > 0 && !(fr.T > f.Frames[i-1].T) {
			t.Fatalf("frame %d is not after the one before", i)
		}
		if len(fr.V) != len(f.Keys) || len(fr.D) != len(open.D) || len(fr.E) != len(open.E) {
			t.Fatalf("frame %d has another size", i)
		}
		at := s.At(fr.T)
		for k, q := range quantities {
			want := q.of(at)
			if fr.V[k] == nil != math.IsNaN(want) || fr.V[k] != nil && math.Abs(*fr.V[k]-want) > 1e-5*math.Abs(want) {
				t.Fatalf("frame %d: %s is not %v", i, q.key, want)
			}
		}
		if fr.Event {
			events++
		}
	}
	if events < 8 {
		t.Errorf("the slider stops at %d events", events)
	}
}
