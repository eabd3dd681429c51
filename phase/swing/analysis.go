package swing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// Version names the algorithms behind an [Analysis]. It changes when the same
// input gives other numbers.
const Version = "1"

// Analysis is everything that is known about one swing. All of it is in swing
// axes and SI units; what is undefined is NaN.
type Analysis struct {
	// Recording is the one that was analysed, as given.
	Recording *grf.Recording

	// Quiet is the stance before the swing; Still the one after it, nil if there
	// was none.
	Quiet grf.Quiet
	Still *grf.Quiet

	// BodyWeight, N, and Mass, kg, as used: of the golfer and what they hold.
	BodyWeight, Mass float64

	// From and To are the samples, both inside, during which the golfer was on
	// the plates around the swing. Outside of them the centre of mass and all
	// that needs it are NaN.
	From, To int

	Settings Settings
	Series   Series
	Events   phase.Events
	Phases   []phase.Phase
	Measures []Measure
	Warnings []grf.Warning

	// Steps says in words and in order what was done.
	Steps []string
}

// Settings are the options as they were used, with every default filled in.
type Settings struct {
	Version     string
	Cutoff      float64 // effective −3 dB point of the whole filter, Hz; 0 when not filtered
	Order       int     // of one of the two passes; 0 when not filtered
	MinVertical float64 // load below which a centre of pressure is undefined, N
	MinPlane    float64 // force below which an arm is undefined, N
	Plane       float64 // inclination of the swing plane to the ground, rad
	Gravity     float64 // m/s²
	COM         string  // how the centre of mass was found
}

// Series holds one value per sample of the recording.
type Series struct {
	Time []float64 // s

	Lead, Trail, Net []grf.Wrench // filtered; Lead and Trail nil when not measured apart

	LeadCOP, TrailCOP, NetCOP    []r3.Vec  // m; feet nil when not measured apart
	LeadFree, TrailFree, NetFree []float64 // free moment, N·m

	LeadShare []float64 // lead part of the vertical load, 0…1; nil when not measured apart

	COM, COMVelocity []r3.Vec // m, m/s
	COMSD            []r3.Vec // standard deviation of COM, m; nil when unknown

	Moment  []torque.Planes // of the ground force about the centre of mass, N·m
	InPlane []float64       // the same in the swing plane, N·m
	Arm     []torque.Planes // signed moment arms, m
	Arm3D   []float64       // |r × F|/|F| of the net force at the net centre of pressure, m
}

// Measure is one number that a coach asks for.
type Measure struct {
	Name  string  // for programs: lower case with underscores; stable
	Label string  // for people
	Value float64 // in Unit; NaN when undefined
	SD    float64 // standard deviation of Value; NaN when unknown
	Unit  string  // SI symbol, "%BW", "%", "1"
	Time  float64 // the instant it belongs to, s; NaN for a measure of a stretch
	Note  string  // why it is undefined, or what to keep in mind; may be empty
}

// Measure returns the measure of this name and whether there is one.
func (a *Analysis) Measure(name string) (Measure, bool) {
	for _, m := range a.Measures {
		if m.Name == name {
			return m, true
		}
	}
	return Measure{}, false
}

// At returns the instant's values between the samples, by straight lines.
// Outside the recording, and next to undefined samples, they are NaN.
func (a *Analysis) At(t float64) Instant {
	s := a.Series
	x := (t - a.Recording.Start) * a.Recording.Rate
	n := len(s.Time)
	if math.IsNaN(x) || x < -1e-9 || x > float64(n-1)+1e-9 {
		return undefinedInstant(t)
	}
	i := max(0, min(int(x), n-2))
	if n == 1 {
		i = 0
	}
	j := min(i+1, n-1)
	f := x - float64(i)
	num := func(v []float64) float64 {
		if v == nil {
			return math.NaN()
		}
		return mix(v[i], v[j], f)
	}
	vec := func(v []r3.Vec) r3.Vec {
		if v == nil {
			return nanVec()
		}
		return mixVec(v[i], v[j], f)
	}
	wrench := func(v []grf.Wrench) grf.Wrench {
		if v == nil {
			return grf.NaN()
		}
		return grf.Wrench{Force: mixVec(v[i].Force, v[j].Force, f), Moment: mixVec(v[i].Moment, v[j].Moment, f)}
	}
	planes := func(v []torque.Planes) torque.Planes {
		return torque.Planes{
			Frontal:    mix(v[i].Frontal, v[j].Frontal, f),
			Sagittal:   mix(v[i].Sagittal, v[j].Sagittal, f),
			Horizontal: mix(v[i].Horizontal, v[j].Horizontal, f),
		}
	}
	return Instant{
		Time: t,
		Lead: wrench(s.Lead), Trail: wrench(s.Trail), Net: wrench(s.Net),
		LeadCOP: vec(s.LeadCOP), TrailCOP: vec(s.TrailCOP), NetCOP: vec(s.NetCOP),
		NetFree: num(s.NetFree), LeadShare: num(s.LeadShare),
		COM: vec(s.COM), COMVelocity: vec(s.COMVelocity),
		Moment: planes(s.Moment), InPlane: num(s.InPlane),
		Arm: planes(s.Arm), Arm3D: num(s.Arm3D),
	}
}

// Instant holds the values of the series at one time.
type Instant struct {
	Time                      float64
	Lead, Trail, Net          grf.Wrench
	LeadCOP, TrailCOP, NetCOP r3.Vec
	NetFree, LeadShare        float64
	COM, COMVelocity          r3.Vec
	Moment, Arm               torque.Planes
	InPlane, Arm3D            float64
}

func undefinedInstant(t float64) Instant {
	n, v, w := math.NaN(), nanVec(), grf.NaN()
	p := torque.Planes{Frontal: n, Sagittal: n, Horizontal: n}
	return Instant{t, w, w, w, v, v, v, n, n, v, v, p, p, n, n}
}

func nanVec() r3.Vec { n := math.NaN(); return r3.Vec{X: n, Y: n, Z: n} }

func mix(a, b, f float64) float64 {
	if f == 0 {
		return a
	}
	return a + float64(f*(b-a))
}

func mixVec(a, b r3.Vec, f float64) r3.Vec {
	return r3.Vec{X: mix(a.X, b.X, f), Y: mix(a.Y, b.Y, f), Z: mix(a.Z, b.Z, f)}
}

// Feet are the outlines of both feet on the surface, if they are known.
type Feet struct{ Lead, Trail *cop.Foot }
