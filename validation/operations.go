package validation

import "fmt"

// Shape of a [Value].
type Shape string

// The shapes.
const (
	ShapeNumber Shape = "number"
	ShapeList   Shape = "list"  // a vector is a list of 3
	ShapeTable  Shape = "table" // rows of equal length
	ShapeWord   Shape = "word"
	ShapeFile   Shape = "file" // of a data set
)

// Field describes one input or output.
type Field struct {
	Name     string `json:"name"`
	Shape    Shape  `json:"shape"`
	Unit     string `json:"unit,omitempty"`
	Text     string `json:"text"`
	Optional bool   `json:"optional,omitempty"` // an input that may be left out
}

// Operation is one thing that an implementation can be asked to compute. All
// values are in SI units, in axes that are right-handed with Z up where there
// is a floor, and all forces are those of the ground on the body.
type Operation struct {
	Name    string  `json:"name"`
	Text    string  `json:"text"`
	Inputs  []Field `json:"inputs"`
	Outputs []Field `json:"outputs"`
}

// lookUp returns the operation of that name.
func lookUp(name string) (Operation, bool) {
	for _, o := range operations {
		if o.Name == name {
			return o, true
		}
	}
	return Operation{}, false
}

// Operations returns all operations that cases ask for.
func Operations() []Operation { return append([]Operation(nil), operations...) }

// check reports what is wrong with a case as data, for the tests of the tables.
func (c Case) check() error {
	op, ok := lookUp(c.Operation)
	if !ok {
		return fmt.Errorf("case %s: no operation %q", c.ID, c.Operation)
	}
	find := func(fields []Field, name string) (Field, bool) {
		for _, f := range fields {
			if f.Name == name {
				return f, true
			}
		}
		return Field{}, false
	}
	for name, v := range c.Inputs {
		f, ok := find(op.Inputs, name)
		if !ok {
			return fmt.Errorf("case %s: operation %s has no input %q", c.ID, op.Name, name)
		}
		if v.shape() != f.Shape || v.Unit != f.Unit {
			return fmt.Errorf("case %s: input %s is a %s in %q, want a %s in %q", c.ID, name, v.shape(), v.Unit, f.Shape, f.Unit)
		}
	}
	for _, f := range op.Inputs {
		if !f.Optional && !c.Inputs.Has(f.Name) {
			return fmt.Errorf("case %s: input %q is missing", c.ID, f.Name)
		}
	}
	if len(c.Wants) == 0 {
		return fmt.Errorf("case %s wants nothing", c.ID)
	}
	for _, w := range c.Wants {
		f, ok := find(op.Outputs, w.Output)
		if !ok {
			return fmt.Errorf("case %s: operation %s has no output %q", c.ID, op.Name, w.Output)
		}
		if w.Value.Unit != f.Unit {
			return fmt.Errorf("case %s: output %s wanted in %q, is in %q", c.ID, w.Output, w.Value.Unit, f.Unit)
		}
		if w.Reason == "" || w.Abs < 0 || w.Rel < 0 || (w.Abs == 0 && w.Rel == 0) {
			return fmt.Errorf("case %s: output %s has no tolerance or no reason for it", c.ID, w.Output)
		}
	}
	return nil
}

func number(name, unit, text string) Field { return Field{name, ShapeNumber, unit, text, false} }
func list(name, unit, text string) Field   { return Field{name, ShapeList, unit, text, false} }
func table(name, unit, text string) Field  { return Field{name, ShapeTable, unit, text, false} }
func word(name, text string) Field         { return Field{name, ShapeWord, "", text, false} }
func file(name, text string) Field         { return Field{name, ShapeFile, "", text, false} }

func (f Field) optional() Field {
	f.Optional = true
	return f
}

// Fields that several operations share.
var (
	fieldForces  = table("forces", "N", "one force in each row")
	fieldPoints  = table("points", "m", "where each force acts")
	fieldCouples = table("couples", "N·m", "a couple that goes with each force, such as a free moment; none if left out").optional()
	fieldRate    = number("rate", "Hz", "sampling rate")
)

var pathOutputs = []Field{
	number("mean_distance", "m", "mean distance from the mean point"),
	number("rms_distance", "m", "root mean square of it"),
	number("rms_x", "m", "per axis"), number("rms_y", "m", "per axis"),
	number("range_x", "m", "per axis"), number("range_y", "m", "per axis"),
	number("length", "m", "length of the path"),
	number("mean_velocity", "m/s", "length over time"),
	number("mean_frequency", "Hz", "mean velocity/(2π·mean distance)"),
	number("spectral_frequency", "Hz", "centroid of the spectrum, axes weighted by their power"),
	number("ellipse_area", "m²", "area of the 95 % prediction ellipse"),
}

var operations = append([]Operation{
	{
		Name:    "convert",
		Text:    "A value in another unit of the same quantity.",
		Inputs:  []Field{number("value", "1", "the value"), word("from", "its unit"), word("to", "the wanted unit")},
		Outputs: []Field{number("value", "1", "the value in the wanted unit")},
	},
	{
		Name:    "weight",
		Text:    "The weight of a mass under standard gravity.",
		Inputs:  []Field{number("mass", "kg", "the mass")},
		Outputs: []Field{number("force", "N", "its weight")},
	},
	{
		Name:   "moment",
		Text:   "The resultant of forces and its moment about a point.",
		Inputs: []Field{fieldForces, fieldPoints, fieldCouples, list("about", "m", "the point; the origin if left out").optional()},
		Outputs: []Field{
			list("force", "N", "sum of the forces"),
			list("moment", "N·m", "moment about the point, couples included"),
			number("size", "N·m", "length of the moment"),
		},
	},
	{
		Name:   "moment_of_momentum",
		Text:   "The total momentum of particles and its moment about a point: the angular momentum.",
		Inputs: []Field{table("momenta", "N·s", "mass × velocity, one in each row"), table("points", "m", "where each particle is"), list("about", "m", "the point; the origin if left out").optional()},
		Outputs: []Field{
			list("momentum", "N·s", "sum of the momenta"),
			list("angular_momentum", "N·m·s", "moment of the momenta about the point"),
		},
	},
	{
		Name:   "moment_arms",
		Text:   "Signed moment arms of the resultant about a centre: frontal = Mx/√(Fy²+Fz²), sagittal = My/√(Fx²+Fz²), horizontal = (Mz − T)/√(Fx²+Fy²), three_d = |r×F|/|F|, where T is the free moment about the net centre of pressure.",
		Inputs: []Field{fieldForces, fieldPoints, fieldCouples, list("centre", "m", "centre of mass, or any other pivot"), number("free_moment", "N·m", "free moment about the net centre of pressure; 0 if left out").optional()},
		Outputs: []Field{
			number("frontal", "m", "arm about X"), number("sagittal", "m", "arm about Y"),
			number("horizontal", "m", "arm about Z"), number("three_d", "m", "distance of the line of action"),
		},
	},
	{
		Name:    "torque_in_plane",
		Text:    "The part of a moment that turns within a plane inclined to the ground by an angle about the target line Y: Mx sin θ + Mz cos θ.",
		Inputs:  []Field{list("moment", "N·m", "about the centre of mass"), number("inclination", "rad", "θ")},
		Outputs: []Field{number("torque", "N·m", "about the normal of the plane")},
	},
	{
		Name: "two_feet",
		Text: "Two feet on one floor at Z = 0: the moment about the centre of mass and its three parts. The first is that of the net force at the net centre of pressure, the second the couple of the horizontal forces of the feet about that point (vertical axis), the third the sum of the free moments under the feet (vertical axis).",
		Inputs: []Field{
			list("lead_force", "N", "force"), list("lead_point", "m", "centre of pressure"), number("lead_free", "N·m", "free moment"),
			list("trail_force", "N", "force"), list("trail_point", "m", "centre of pressure"), number("trail_free", "N·m", "free moment"),
			list("centre", "m", "centre of mass"),
		},
		Outputs: []Field{
			list("moment", "N·m", "total"), list("ground_force", "N·m", "first part"),
			number("pivoting", "N·m", "second part"), number("contact", "N·m", "third part"),
		},
	},
	{
		Name: "line_of_action",
		Text: "Where the resultant of forces crosses the horizontal plane at a height: the centre of pressure, and the free moment about the vertical through it. Undefined below min_vertical.",
		Inputs: []Field{fieldForces, fieldPoints, fieldCouples,
			number("height", "m", "height of the plane; 0 if left out").optional(),
			number("min_vertical", "N", "load under which the point is undefined; 20 N if left out").optional()},
		Outputs: []Field{list("point", "m", "the point"), number("free_moment", "N·m", "about the vertical")},
	},
	{
		Name:    "load_share",
		Text:    "The lead foot's part of the vertical load.",
		Inputs:  []Field{list("lead", "N", "force under the lead foot"), list("trail", "N", "force under the trail foot")},
		Outputs: []Field{number("share", "1", "0 … 1")},
	},
	{
		Name: "plate",
		Text: "One sample of a force plate. Plate axes follow from the corners: x along corner 2 → 1, y from 4 → 1, z = x × y. Outputs keep the sign of the channels.",
		Inputs: []Field{
			number("type", "1", "C3D force-platform type"),
			table("corners", "m", "four corners of the surface in the laboratory, C3D order"),
			list("origin", "m", "FORCE_PLATFORM:ORIGIN with a negative z: measuring origin to surface centre; for type 3 (a, b, az0)"),
			table("calibration", "1", "matrix that turns channels into N and N·m, row by row").optional(),
			list("scale", "1", "factor for each channel").optional(),
			list("correction", "1", "twelve coefficients of a position correction, for mm").optional(),
			number("top_cover", "m", "thickness of what lies on the plate").optional(),
			list("channels", "1", "the channels, in N and N·m or as the matrix wants them"),
			number("min_vertical", "N", "load under which points are undefined; 0 if left out").optional(),
		},
		Outputs: []Field{
			list("surface_force", "N", "force in plate axes"),
			list("surface_moment", "N·m", "moment about the surface centre in plate axes"),
			list("surface_point", "m", "centre of pressure in plate axes, x and y"),
			number("surface_free_moment", "N·m", "free moment about plate z"),
			list("force", "N", "force in the laboratory"),
			list("moment", "N·m", "moment about the laboratory's origin"),
			list("moment_at_centre", "N·m", "moment about the surface centre in laboratory axes"),
			list("point", "m", "centre of pressure in the laboratory"),
		},
	},
	{
		Name: "plate_series",
		Text: "Many samples of a force plate, about the surface centre in plate axes (which here are those of the laboratory), with the sign of the channels.",
		Inputs: []Field{
			number("type", "1", "C3D force-platform type"),
			table("corners", "m", "four corners of the surface"),
			list("origin", "m", "as for plate"),
			table("calibration", "1", "as for plate").optional(),
			list("scale", "1", "factor for each channel").optional(),
			table("channels", "1", "one sample in each row"),
		},
		Outputs: []Field{table("forces", "N", "one sample in each row"), table("moments", "N·m", "one sample in each row")},
	},
	{
		Name: "two_plate_path",
		Text: "The net centre of pressure of two plates on one floor, sample by sample.",
		Inputs: []Field{
			table("right_forces", "N", "force on the right plate"), table("right_points", "m", "its centre of pressure"),
			table("left_forces", "N", "force on the left plate"), table("left_points", "m", "its centre of pressure"),
		},
		Outputs: []Field{table("points", "m", "net centre of pressure")},
	},
	{
		Name:    "wrench_path",
		Text:    "As path_measures, from the forces and moments of a plate about the centre of its surface.",
		Inputs:  []Field{table("forces", "N", "one sample in each row"), table("moments", "N·m", "one sample in each row"), fieldRate},
		Outputs: pathOutputs,
	},
	{
		Name:    "impulse",
		Text:    "What a resultant does over time: its linear impulse and its angular impulse about a centre that stands still. The trapezoid rule joins the samples.",
		Inputs:  []Field{table("forces", "N", "force at each sample"), table("moments", "N·m", "moment about the centre at each sample"), fieldRate},
		Outputs: []Field{list("linear", "N·s", "impulse"), list("angular", "N·m·s", "angular impulse")},
	},
	{
		Name:    "power",
		Text:    "Power of a force on a body that moves.",
		Inputs:  []Field{list("force", "N", "force"), list("velocity", "m/s", "velocity of the centre of mass")},
		Outputs: []Field{number("power", "W", "force · velocity")},
	},
	{
		Name: "motion",
		Text: "Motion of the centre of mass from the net ground reaction alone, starting from a quiet stance of known height: a = F/m − g, integrated twice. The mass is the mean vertical force of the quiet stance over g.",
		Inputs: []Field{
			table("forces", "N", "net force at each sample, straight lines between"), fieldRate,
			number("gravity", "m/s²", "acceleration of gravity"),
			number("quiet", "s", "duration of the quiet stance at the start"),
			number("height", "m", "height of the centre of mass in the quiet stance"),
			number("instant", "s", "when to report"),
		},
		Outputs: []Field{
			number("mass", "kg", "mass from the quiet stance"),
			list("velocity", "m/s", "velocity at the instant"),
			list("rise", "m", "displacement at the instant from the quiet stance"),
			number("highest", "m", "greatest height above the quiet stance from the instant on, without any force"),
		},
	},
	{
		Name:    "flight",
		Text:    "Time in the air and the height of the jump that follows from it, g t²/8.",
		Inputs:  []Field{list("vertical", "N", "vertical force at each sample"), fieldRate, number("gravity", "m/s²", "acceleration of gravity"), number("min_vertical", "N", "the plate counts as left below this load")},
		Outputs: []Field{number("take_off", "s", "first sample in the air"), number("landing", "s", "last sample in the air"), number("rise", "m", "height from the time in the air")},
	},
	{
		Name:   "segment_masses",
		Text:   "Sums of segment masses of an anthropometric table, in parts of the body mass. Tables: de_leva_men, de_leva_women, dempster.",
		Inputs: []Field{word("table", "name of the table")},
		Outputs: []Field{
			number("foot", "1", "one foot"), number("trunk", "1", "trunk without head"), number("trunk_parts", "1", "upper, middle and lower trunk"),
			number("whole", "1", "head, trunk, arms and legs"),
		},
	},
	{
		Name: "leg_centres",
		Text: "Centres of mass of the segments of one leg and of the whole leg.",
		Inputs: []Field{word("table", "name of the table"), list("hip", "m", "greater trochanter"), list("knee", "m", "centre of the knee"),
			list("ankle", "m", "malleolus"), list("forefoot", "m", "head of the second metatarsal")},
		Outputs: []Field{list("thigh", "m", "centre"), list("shank", "m", "centre"), list("foot", "m", "centre"), list("limb", "m", "centre of all three")},
	},
	{
		Name: "steady_gains",
		Text: "Gains at which an estimator of position and velocity settles that is driven by force and corrected by position at every sample: a difference e corrects the position by position_gain·e and the velocity by velocity_gain·rate·e.",
		Inputs: []Field{number("force_sd", "N", "noise of the force"), number("position_sd", "m", "noise of the position"),
			number("mass", "kg", "body mass"), fieldRate},
		Outputs: []Field{number("position_gain", "1", "l₁"), number("velocity_gain", "1", "l₂")},
	},
	{
		Name:    "low_pass_sections",
		Text:    "Butterworth low-pass as second-order sections: y = b0 x + b1 x1 + b2 x2 − a1 y1 − a2 y2. One pass, −3 dB at the cut-off.",
		Inputs:  []Field{number("order", "1", "of the filter"), number("cutoff", "Hz", "−3 dB point"), fieldRate},
		Outputs: []Field{table("sections", "1", "b0 b1 b2 a1 a2 in each row"), list("cascade", "1", "coefficients of all sections multiplied out: b0 … bN a1 … aN")},
	},
	{
		Name:   "low_pass_both_ways",
		Text:   "The signal run forward and backward through a Butterworth low-pass. The cut-off is the −3 dB point of both passes together. Ends: odd reflection, steady-state start.",
		Inputs: []Field{number("order", "1", "of one pass"), number("cutoff", "Hz", "−3 dB point of both passes"), fieldRate, list("signal", "1", "samples"), number("padding", "1", "samples of reflection at each end").optional()},
		Outputs: []Field{list("signal", "1", "filtered samples"), number("amplitude", "1", "largest size of the middle third of the filtered samples"),
			table("sections", "1", "b0 b1 b2 a1 a2 of one pass in each row"), list("cascade", "1", "coefficients of one pass multiplied out: b0 … bN a1 … aN"),
			number("correction", "1", "tan(π·cut-off/rate) over the same of one pass's own −3 dB point")},
	},
	{
		Name:    "low_pass_forward",
		Text:    "The signal run once through a Butterworth low-pass that starts at rest (all zero).",
		Inputs:  []Field{number("order", "1", "of the filter"), number("cutoff", "Hz", "−3 dB point"), fieldRate, list("signal", "1", "samples")},
		Outputs: []Field{list("signal", "1", "filtered samples")},
	},
	{
		Name:    "path_measures",
		Text:    "Measures of a centre-of-pressure path. Rates refer to (N − 1)/rate.",
		Inputs:  []Field{list("x", "m", "anterior-posterior"), list("y", "m", "medio-lateral"), fieldRate},
		Outputs: pathOutputs,
	},
	{
		Name:    "ellipse_factor",
		Text:    "Square of the 95 % prediction radius of n pairs in units of their standard deviations.",
		Inputs:  []Field{number("n", "1", "number of pairs")},
		Outputs: []Field{number("factor", "1", "the factor"), number("chi_squared_radius_error", "1", "relative error of the radius when 5.991 is used instead")},
	},
	{
		Name:    "analysis_of_variance",
		Text:    "Mean squares of a table of targets (rows) by raters (columns).",
		Inputs:  []Field{table("ratings", "1", "one row for each target")},
		Outputs: []Field{number("between", "1", "between targets"), number("within", "1", "within targets"), number("judges", "1", "between raters"), number("error", "1", "residual")},
	},
	{
		Name:    "icc",
		Text:    "Intraclass correlation coefficient of Shrout and Fleiss and its 95 % interval.",
		Inputs:  []Field{table("ratings", "1", "one row for each target"), word("form", "(1,1), (2,1), (3,1), (1,k), (2,k) or (3,k)")},
		Outputs: []Field{number("value", "1", "the coefficient"), number("low", "1", "interval"), number("high", "1", "interval")},
	},
	{
		Name:    "standard_error",
		Text:    "Standard error of measurement √EMS and the minimal detectable change at 95 %.",
		Inputs:  []Field{table("ratings", "1", "one row for each target")},
		Outputs: []Field{number("standard_error", "1", "√EMS"), number("detectable_change", "1", "1.96·√2 times it")},
	},
	{
		Name:    "limits_of_agreement",
		Text:    "Bias of a against b, standard deviation of the differences, limits of agreement and the 95 % interval of the bias.",
		Inputs:  []Field{list("a", "1", "one method"), list("b", "1", "the other"), number("multiplier", "1", "of the standard deviation; the normal quantile of 0.975 if left out").optional()},
		Outputs: []Field{number("bias", "1", "mean of a − b"), number("sd", "1", "of the differences"), number("lower", "1", "limit"), number("upper", "1", "limit"), number("bias_low", "1", "interval"), number("bias_high", "1", "interval")},
	},
	{
		Name:    "covariance_of_means",
		Text:    "Means of simultaneous observations, their standard uncertainties and correlations.",
		Inputs:  []Field{table("observations", "1", "one row for each input quantity")},
		Outputs: []Field{list("means", "1", "means"), list("uncertainties", "1", "standard uncertainties of the means"), table("correlations", "1", "of the means")},
	},
	{
		Name:    "propagate",
		Text:    "First-order propagation of uncertainty: J C Jᵀ.",
		Inputs:  []Field{table("jacobian", "1", "one row for each result"), table("covariance", "1", "of the inputs")},
		Outputs: []Field{list("uncertainties", "1", "standard uncertainties of the results"), table("correlations", "1", "of the results")},
	},
}, recordingOperations...)
