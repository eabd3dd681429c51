package capture

import (
	"fmt"
	"io"
	"reflect"

	"example.com/momentarm/units"
)

// Version is the version of the setup format that this package reads.
const Version = 1

// maxSetup is the largest setup that is read, bytes.
const maxSetup = 1 << 20

// Setup says what a file does not: who swung, which plate is whose, which way
// is up. The package comment explains its JSON form, field by field. The zero
// Setup, apart from its Version, leaves everything to the file and to the
// automatic choices.
//
// Nothing here changes a Setup once it was read; several goroutines may read
// captures with the same one as long as nobody changes it.
type Setup struct {
	Version int `json:"version"`
	// Session says in the writer's words what was recorded.
	Session string `json:"session,omitzero"`
	Golfer  Golfer `json:"golfer,omitzero"`
	Lab     Lab    `json:"lab,omitzero"`
	Plates  Roles  `json:"plates,omitzero"`
	// Sense is "auto" (or empty), "reaction" or "action".
	Sense string `json:"sense,omitzero"`
	Zero  Zero   `json:"zero,omitzero"`

	Filter        Filter             `json:"filter,omitzero"`
	LoadThreshold units.Force        `json:"load_threshold,omitzero"`
	ArmThreshold  units.Force        `json:"arm_threshold,omitzero"`
	Gravity       units.Acceleration `json:"gravity,omitzero"`
	SwingPlane    units.Angle        `json:"swing_plane,omitzero"`
	QuietStance   Window             `json:"quiet_stance,omitzero"`

	Marks  map[string]units.Time `json:"marks,omitzero"`
	Events map[string]string     `json:"events,omitzero"`
	Points Points                `json:"points,omitzero"`
	COM    COM                   `json:"com,omitzero"`
	Feet   Feet                  `json:"feet,omitzero"`

	C3D   C3D   `json:"c3d,omitzero"`
	Table Table `json:"table,omitzero"`
}

// Golfer is who swung.
type Golfer struct {
	Name    string       `json:"name,omitzero"`
	Handed  string       `json:"handed,omitzero"` // "right" (or empty) or "left"
	Mass    units.Mass   `json:"mass,omitzero"`
	Stature units.Length `json:"stature,omitzero"`
}

// Lab lays the swing axes into the laboratory's.
type Lab struct {
	Up     Direction `json:"up,omitzero"`
	Target Direction `json:"target,omitzero"`
	// Origin is the point of the standing surface that the axes begin at; nil: the
	// centre of the plates used, for tables without corners that of the laboratory.
	Origin *Position `json:"origin,omitzero"`
}

// Roles says which plates carry which foot: Lead and Trail, or Both. All empty
// means an automatic choice.
type Roles struct {
	Lead  []int `json:"lead,omitzero"`
	Trail []int `json:"trail,omitzero"`
	Both  []int `json:"both,omitzero"`
	// Change corrects what a C3D file says about its plates.
	Change []PlateChange `json:"change,omitzero"`
}

// Geometry is what can be said about a plate beside its channels. Fields that
// are left out are taken from the file, or are zero.
type Geometry struct {
	Type            int           `json:"type,omitzero"`
	Corners         *[4]Position  `json:"corners,omitzero"`
	Origin          *Position     `json:"origin,omitzero"`
	TopCover        units.Length  `json:"top_cover,omitzero"`
	Calibration     [][]float64   `json:"calibration,omitzero"` // N and N·m per unit of the channel
	ChannelScale    []float64     `json:"channel_scale,omitzero"`
	PointCorrection []float64     `json:"point_correction,omitzero"` // twelve, see grf.PlateConfig
	Channels        []ChannelName `json:"channels,omitzero"`
	Sense           string        `json:"sense,omitzero"` // of this plate, instead of Setup.Sense
}

// PlateChange corrects what a C3D file says about one plate.
type PlateChange struct {
	Plate int `json:"plate"` // its number in the file, from 1
	Geometry
	// OriginSign is "auto" (or empty), "as_stated" or "reversed".
	OriginSign string `json:"origin_sign,omitzero"`
	// MomentUnit is the unit of the moments, for channels that state a wrong
	// one: "N·m", "N·mm" and so on.
	MomentUnit string `json:"moment_unit,omitzero"`
}

// Zero says when the plates carried nothing.
type Zero struct {
	// Method is "none", "window" or "file". Empty is "window" if a window is
	// given, else "none".
	Method string     `json:"method,omitzero"`
	From   units.Time `json:"from,omitzero"`
	To     units.Time `json:"to,omitzero"`
	// MaxLoad is the largest force that counts as unloaded; 0 takes the default
	// of grf.BaselineOptions.
	MaxLoad units.Force `json:"max_load,omitzero"`
}

// Filter is the low-pass that the analysis is to use.
type Filter struct {
	// Method is "lowpass" (or empty) or "none".
	Method string          `json:"method,omitzero"`
	Cutoff units.Frequency `json:"cutoff,omitzero"` // 0: the default of the analysis
	Order  int             `json:"order,omitzero"`  // of one of the two passes; 0: the default
}

// Window is a stretch of time on the capture's clock.
type Window struct {
	From units.Time `json:"from,omitzero"`
	To   units.Time `json:"to,omitzero"`
}

// Points names places on the body by the labels of points in a C3D file.
type Points struct {
	// Landmarks are places on the body: see [LandmarkNames].
	Landmarks map[string]Labels `json:"landmarks,omitzero"`
	// SD is the standard deviation of one coordinate of a landmark.
	SD units.Length `json:"sd,omitzero"`
}

// COM is what is known of the centre of mass beside the forces: at most one
// other source, a table or landmarks, and the height in the quiet stance.
type COM struct {
	// File is the name of a table, read as the reader of the capture says.
	File string `json:"file,omitzero"`
	// Columns are the names of its columns of x, y and z; without them columns
	// called x, y, z or com_x, com_y, com_z are taken.
	Columns []string `json:"columns,omitzero"`
	// Axes is "lab" or "swing".
	Axes string `json:"axes,omitzero"`
	Sheet

	// Model says how the centre of mass follows from Points.Landmarks: the
	// name of a table of body segments, or "pelvis". See [ModelNames].
	Model string `json:"model,omitzero"`
	// Club is what the golfer holds, nil for nothing worth a segment.
	Club *Club `json:"club,omitzero"`

	// SD is the standard deviation of one coordinate of the source, the part
	// that changes from one position to the next.
	SD units.Length `json:"sd,omitzero"`
	// SlowSD is that of an error that lasts, and SlowTime for how long.
	SlowSD   units.Length `json:"slow_sd,omitzero"`
	SlowTime units.Time   `json:"slow_time,omitzero"`
	// Delay is by how much the source stamps an instant later than the plates.
	Delay units.Time `json:"delay,omitzero"`
	// SeekDelay says that the delay is only known to lie within this of Delay.
	SeekDelay units.Time `json:"seek_delay,omitzero"`

	// Height is how high the centre of mass is in the quiet stance, and
	// HeightSD its standard deviation.
	Height   units.Length `json:"height,omitzero"`
	HeightSD units.Length `json:"height_sd,omitzero"`
}

// Club is a club as a segment between the landmarks club_grip and club_head.
type Club struct {
	Mass units.Mass `json:"mass"`
	// Balance is the place of its centre of mass as a part of the way from the
	// grip to the head.
	Balance float64 `json:"balance"`
}

// Feet are the outlines of the feet.
type Feet struct {
	// Axes is "lab" (or empty) or "swing".
	Axes string `json:"axes,omitzero"`
	// At is when points of a C3D file are looked at; 0 takes their first 0.1 s.
	At    units.Time `json:"at,omitzero"`
	Lead  *Outline   `json:"lead,omitzero"`
	Trail *Outline   `json:"trail,omitzero"`
}

// Outline is a foot, seen from above.
type Outline struct {
	Heel  Place        `json:"heel"` // rear end of the heel
	Toe   Place        `json:"toe"`  // tip of the toes
	Width units.Length `json:"width"`
}

// C3D says how a C3D file is read.
type C3D struct {
	// FrameRate replaces the rate of the points, and with it that of the plates.
	FrameRate units.Frequency `json:"frame_rate,omitzero"`
	// LengthUnit replaces the unit of length.
	LengthUnit string `json:"length_unit,omitzero"`
	// Samples is "auto" (or empty), "signed" or "unsigned".
	Samples string `json:"samples,omitzero"`
	// EventClock is "auto" (or empty), "capture" or "first_frame".
	EventClock string `json:"event_clock,omitzero"`
}

// Sheet says how a table is read; see table.Options.
type Sheet struct {
	Separator string            `json:"separator,omitzero"` // "comma", "semicolon", "tab"
	Decimal   string            `json:"decimal,omitzero"`   // "point", "comma"
	Time      string            `json:"time,omitzero"`      // name of the time column
	Rate      units.Frequency   `json:"rate,omitzero"`
	Units     map[string]string `json:"units,omitzero"`
	Ignore    []string          `json:"ignore,omitzero"`
}

// Table says how a capture that is a table is read.
type Table struct {
	Sheet
	// Axes of the columns: "lab", "swing" or "plate"; for plates that do not say
	// it themselves.
	Axes string `json:"axes,omitzero"`
	// Plates says which columns make a plate. Without it columns are told by
	// their names.
	Plates []TablePlate `json:"plates,omitzero"`
}

// TablePlate is a plate, or a foot, in a table. Either Force with Moment or
// with COP and Free, or Channels with Type.
type TablePlate struct {
	Axes   string    `json:"axes,omitzero"`
	Force  []string  `json:"force,omitzero"`  // x, y, z
	Moment []string  `json:"moment,omitzero"` // x, y, z
	About  *Position `json:"about,omitzero"`  // point of the moments
	COP    []string  `json:"cop,omitzero"`    // x, y, z; in plate axes x, y
	Free   string    `json:"free,omitzero"`   // free moment
	Geometry
}

// ReadSetup reads the JSON form of a setup and checks what can be checked
// without the capture. Errors are [*SetupError]: a field that is not known, one
// that is given twice, a number without unit, a value that makes no sense. No
// more than 1 MiB is read.
func ReadSetup(r io.Reader) (*Setup, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxSetup+1))
	if err != nil {
		return nil, fmt.Errorf("setup: %w", err)
	}
	if len(data) > maxSetup {
		return nil, setupErrorf("", "larger than %d bytes", maxSetup)
	}
	tree, err := parseTree(data)
	if err != nil {
		return nil, err
	}
	o, ok := tree.(*object)
	if !ok {
		return nil, setupErrorf("", "%s; want an object {…}", describe(tree))
	}
	// The version first: of another one no other field can be judged.
	v, ok := o.fields["version"]
	if !ok {
		return nil, setupErrorf("version", `missing; write "version": %d`, Version)
	}
	s := new(Setup)
	if err := fill("version", v, reflect.ValueOf(&s.Version).Elem()); err != nil {
		return nil, err
	}
	if s.Version != Version {
		return nil, setupErrorf("version", "version %d is not known; this is version %d", s.Version, Version)
	}
	if err := fill("", tree, reflect.ValueOf(s).Elem()); err != nil {
		return nil, err
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	return s, nil
}
