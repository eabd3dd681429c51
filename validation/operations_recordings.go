package validation

// recordingOperations are those that only measured recordings ask for.
var recordingOperations = []Operation{
	{
		Name: "two_plate_moments",
		Text: "Two feet on one floor at Z = 0 and a centre of mass, sample by sample: the net force, its centre of pressure, the free moment about the vertical through it, and the moment of the ground about the centre of mass.",
		Inputs: []Field{
			table("right_forces", "N", "force under the right foot"), table("right_points", "m", "its centre of pressure"), list("right_frees", "N·m", "its free moment"),
			table("left_forces", "N", "force under the left foot"), table("left_points", "m", "its centre of pressure"), list("left_frees", "N·m", "its free moment"),
			table("centres", "m", "centre of mass"),
			number("min_vertical", "N", "load under which points are undefined; 20 N if left out").optional(),
		},
		Outputs: []Field{
			table("forces", "N", "net force"), table("points", "m", "net centre of pressure"),
			list("free_moments", "N·m", "net free moment"), table("moments", "N·m", "moment about the centre of mass"),
		},
	},
	{
		Name: "fused_path",
		Text: "The path of the centre of mass that agrees best, in the least-squares sense over the whole record, with force and position taken together. The acceleration is force/mass less gravity; each force holds until the next sample and has white noise of force_sd, each position has white noise of position_sd. Before that, the first position is known to within 1 m and the velocity is zero to within 1 m/s. A Rauch–Tung–Striebel smoother computes it. The last force is not used.",
		Inputs: []Field{
			table("forces", "N", "net force at each sample"), table("positions", "m", "centre of mass as measured, at the same instants"), fieldRate,
			number("mass", "kg", "body mass"), number("gravity", "m/s²", "acceleration of gravity"),
			number("force_sd", "N", "noise of each force component"), number("position_sd", "m", "noise of each position component"),
		},
		Outputs: []Field{table("positions", "m", "the path"), table("velocities", "m/s", "its velocity"), list("position_sd", "m", "standard deviation of one component")},
	},
	{
		Name: "flight_error",
		Text: "How well a path of the centre of mass obeys gravity while nothing touches the ground: the length of the vector of the medians, per axis and over all samples inside the flights, of the second difference of position plus gravity, as a part of gravity.",
		Inputs: []Field{
			table("positions", "m", "centre of mass"), fieldRate, number("gravity", "m/s²", "acceleration of gravity"),
			table("flights", "s", "begin and end of each flight; the first position is at 0 s"),
		},
		Outputs: []Field{number("error", "1", "part of gravity")},
	},
	{
		Name:   "c3d_points",
		Text:   "The points of a C3D file, in its order. A point is missing in a frame that the file marks invalid. Frames count from 0.",
		Inputs: []Field{file("file", "the C3D file")},
		Outputs: []Field{
			list("valid", "1", "frames in which each point is present"),
			list("first_frame", "1", "the first of them"), list("last_frame", "1", "the last of them"),
			table("first", "m", "position in the first of them"), table("last", "m", "position in the last of them"), table("mean", "m", "mean position"),
		},
	},
	{
		Name:   "c3d_channels",
		Text:   "The analog channels of a C3D file, in its order: (stored − OFFSET)·SCALE·GEN_SCALE, in the unit that the file states.",
		Inputs: []Field{file("file", "the C3D file")},
		Outputs: []Field{
			list("stored_first", "1", "first stored value, before scaling"), list("stored_last", "1", "last stored value"),
			list("first", "1", "first sample"), list("second", "1", "second sample; the first where there is only one"), list("last", "1", "last sample"),
			list("mean", "1", "over all samples"), list("lowest", "1", "over all samples"), list("highest", "1", "over all samples"),
		},
	},
	{
		Name: "c3d_plate",
		Text: "A force plate of a C3D file at some samples, as it stands in the file: not zeroed, with the sign of the channels. An ORIGIN whose z is positive is reversed. What depends on moments is undefined where the file lacks the distances of the sensors.",
		Inputs: []Field{
			file("file", "the C3D file"), number("plate", "1", "its number in the file, from 1"),
			list("samples", "1", "analog samples, from 0"), number("min_vertical", "N", "load along plate z under which points are undefined; 20 N if left out").optional(),
		},
		Outputs: []Field{
			table("forces", "N", "in the laboratory"), table("points", "m", "centre of pressure on the plate's surface, in the laboratory"),
			list("free_moments", "N·m", "free moment about plate z, which follows from the corners as for plate"),
		},
	},
}
