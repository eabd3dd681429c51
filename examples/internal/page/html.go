package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"math"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	styleText string
	//go:embed page.js
	scriptText string
)

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// page is what the template shows.
type page struct {
	Title, Subtitle string
	Policy          string
	Style           template.CSS
	Script, Data    template.JS

	Facts    []fact
	Words    []string
	Equation []instantCell

	Instant     template.HTML
	InstantSaid string
	Rows        []instantRow
	Split       bool
	Last, Open  int

	Held                *held // nil without bands
	Findings, Undecided []findingRow
	Unmeasured          []fact
	FindingCautions     []string
	Against             *Comparison

	Keys         []eventRow
	Outside      string
	Missing      []missingRow
	Phases       []phaseRow
	PhasesWide   template.HTML
	PhasesNarrow template.HTML
	Charts       []*chart
	Fan          template.HTML
	FanStages    []fanRow
	PlanWide     template.HTML
	PlanNarrow   template.HTML
	FootNote     string
	Main         table
	Groups       []group
	AtEvents     bool
	Warnings     []grf.Warning
	Quality      []qualityRow
	Sources      []sourceRow
	Methods      []string
	Steps        []string
	Settings     []fact
	LeftHanded   bool
	Plane        string
	NewtonsPerCm string
	FlatScale    int
	Demo         bool
	HasImpact    bool
	ImpactNote   string
	SomeSD       bool
	PlusMinus    bool // the words have a ±
	GivenImpact  bool // without a standard deviation
	COMSD        bool
	Unfold       string
	Flat         string // why there is no torque, "" when there is
}

type fanRow struct{ Class, Name string }

// HTML returns the whole report as one file.
func (s *Subject) HTML() ([]byte, error) {
	g := newStage(s)
	pic := newInstant(g)
	fr := newFrames(g, pic)
	data, err := fr.json()
	if err != nil {
		return nil, err
	}
	p := &page{
		Title: s.title(), Subtitle: s.subtitle(),
		Style: template.CSS(styleText), Script: template.JS(scriptText), Data: template.JS(data),
		Policy: policy(),
		Facts:  factsOf(s), Words: inWords(s),
		Instant: pic.picture(), InstantSaid: fr.Frames[fr.Open].Said,
		Split:        s.Recording.Split(),
		LeftHanded:   s.handed() == "left",
		Plane:        number(degrees(s.Settings.Plane), 0) + "°",
		NewtonsPerCm: number(pic.faceOn.newtonsPerCentimetre(), 0),
		FlatScale:    flatScale,
		Warnings:     s.Warnings, Steps: s.Steps, Methods: s.Methods, Settings: settingsOf(s),
		Demo: s.Demo, HasImpact: s.hasImpact(), ImpactNote: s.doubtfulImpact(),
	}
	if s.Findings != nil {
		p.Findings, p.Undecided = findingRows(s.Findings.Findings), findingRows(s.Findings.Undecided)
		p.FindingCautions = s.Findings.Cautions
		p.Held = s.held()
		for _, u := range s.Findings.Unmeasured {
			name := u.Band.Label
			if name == "" {
				name = strings.ReplaceAll(u.Band.Measure, "_", " ")
			}
			p.Unmeasured = append(p.Unmeasured, fact{capital(name), u.Reason})
		}
	}
	for i, sentence := range p.Words {
		if strings.Contains(sentence, "±") {
			p.Words[i] += " (± is one standard deviation: in about two of three cases the truth is no farther away.)"
			p.PlusMinus = true
			break
		}
	}
	p.GivenImpact = s.exactImpact()
	p.Against = s.Against
	at := s.At(g.best)
	p.Equation = []instantCell{instantValue(at, "frontal-force"), instantValue(at, "frontal-arm"), instantValue(at, "frontal-torque")}
	p.Rows = instantRows(at, p.Split)
	p.eventsOf(g)
	p.Charts = chartsOf(g)
	p.PhasesWide, p.PhasesNarrow = phaseStrip(g, wideSize), phaseStrip(g, narrowSize)
	p.Fan = fan(g)
	for _, f := range fanStages {
		if f.until == "" || !math.IsNaN(s.Events.Time(f.until)) {
			p.FanStages = append(p.FanStages, fanRow{f.class, f.name})
		}
	}
	p.PlanWide, p.PlanNarrow = pressures(g)
	p.FootNote = footNote(g)
	p.Main, p.Groups = s.mainTable(), s.groups()
	p.Quality, p.Sources = qualityOf(s.Quality)
	for _, m := range s.Measures {
		p.SomeSD = p.SomeSD || !math.IsNaN(m.SD)
	}
	p.COMSD = !math.IsNaN(at.COMSD.Y + at.COMSD.Z)
	p.Unfold = fr.Unfold
	if s.Recording.VerticalOnly() {
		p.Flat = grf.NoHorizontal
	}
	p.Last, p.Open = len(fr.Frames)-1, fr.Open

	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, p); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// policy forbids the page to load anything or to run any script but its own: what
// a capture or a setup says stays text, even if escaping failed.
func policy() string {
	return "default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src " + ScriptSource()
}

// ScriptSource names the page's script by its content, as a policy does that lets
// it run: for a page that shows this one within.
func ScriptSource() string {
	sum := sha256.Sum256([]byte(scriptText))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

func (s *Subject) hasImpact() bool {
	_, ok := s.Events.Get(phase.Impact)
	return ok
}

func (s *Subject) title() string {
	if s.Player != "" {
		return s.Player
	}
	return s.Capture
}

func (s *Subject) subtitle() string { return s.Session }
