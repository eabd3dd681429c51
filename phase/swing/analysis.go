package swing

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// Version names the algorithms behind an [Analysis]. It changes when the same
// input gives other numbers.
const Version = "1"

// Analysis is everything that is known about one swing. All of it is in swing
// axes and SI units; what is undefined is NaN.
//
// Nothing here changes an Analysis once it was made; several goroutines may ask the
// same one, also while it is compared and screened, as long as nobody changes it or
// its recording.
type Analysis struct {
	// Recording is the one that was analysed, as given.
	Recording *grf.Recording

	// Quiet is the stance before the swing; Still the one after it, nil if there
	// was none.
	Quiet grf.Quiet
	Still *grf.Quiet

	// BodyWeight, N, and Mass, kg, as used: of the golfer and what they hold.
	BodyWeight, Mass float64

	// Noise is the covariance of what noise is left in the filtered wrenches, as
	// the quiet stance shows it; of the feet zero when not measured apart.
	Noise struct{ Lead, Trail, Net grf.Covariance }

	// From and To are the samples, both inside, during which the golfer was on
	// the plates around the swing, and of this swing if there are several. Outside
	// of them the centre of mass and all that needs it are NaN.
	From, To int

	Settings Settings
	Series   Series
	Events   phase.Events
	Phases   []phase.Phase
	Measures []Measure

	// Quality says how well the recording obeys the laws of mechanics, in
	// figures; what they give rise to is among the Warnings.
	Quality  *com.Quality
	Warnings []grf.Warning

	// Steps says in words and in order what was done.
	Steps []string

	passed  float64            // see passedNoise
	lasting grf.Covariance     // see lastingErrors
	why     string             // why the measures at hand may be undefined
	marks   map[string]float64 // given ones, by the names of events
	asked   grf.QuietOptions   // as given
	how     com.Options        // of the centre of mass
	clocks  []com.Clock        // of its sources
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
	Errors      Errors  // of the plates
}

// Series holds one value per sample of the recording.
type Series struct {
	Time []float64 // s

	Lead, Trail, Net []grf.Wrench // filtered; Lead and Trail nil when not measured apart

	LeadCOP, TrailCOP, NetCOP    []r3.Vec  // m; feet nil when not measured apart
	LeadFree, TrailFree, NetFree []float64 // free moment, N·m

	COM, COMVelocity []r3.Vec // m, m/s
	COMSD            []r3.Vec // standard deviation of COM, m; nil when unknown
	COMVelocitySD    []r3.Vec // m/s
	// COMShiftSD is that of the way of COM since the end of the quiet stance, m:
	// less than COM at both ends would have it, because positions next to each
	// other are wrong by nearly the same. nil when unknown.
	COMShiftSD []r3.Vec
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

// Feet are the outlines of both feet on the surface, if they are known.
type Feet struct{ Lead, Trail *cop.Foot }
