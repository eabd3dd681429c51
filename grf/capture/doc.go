// Package capture turns a file and a setup into a recording: the file says what
// the plates measured, the setup says what no file tells, such as which way the
// target is. It knows files and plates, no analysis.
//
//	C3D file ─┐
//	table ────┼─ Read ─→ Result ─ Recording in swing axes, zeroed, not filtered
//	setup ────┘                 ├ COM: another source of the centre of mass
//	                            ├ Points: places on the body, from a C3D file
//	                            ├ Processing: what the setup asks of the analysis
//	                            ├ Steps: what was done, in order, in plain words
//	                            └ Warnings: doubts and automatic choices
//
// The order of the steps is: decode and scale; zero the raw channels; calibrate
// and move moments to the laboratory's origin; settle whose force it is; rotate
// into swing axes; add the plates of each foot. Whoever wants the plates of a C3D
// file as they stand, in laboratory axes, takes [Plates].
//
// # The setup
//
// A setup is a JSON object. Quantities are texts with a unit, in any that package
// units knows: "78 kg", "172 lb", "50 Hz", "0.4 s". Points are lists of three
// lengths, directions an axis ("+z", "-y") or three numbers. A field that is not
// known, or given twice, is an error; errors name the field. Everything but the
// version may be left out.
//
//	{
//	  "version": 1,
//	  "golfer": {"handed": "left", "mass": "78 kg", "stature": "1.82 m"},
//	  "lab": {"up": "+z", "target": "-y"},
//	  "plates": {"lead": [2], "trail": [1]},
//	  "zero": {"from": "0 s", "to": "0.4 s"},
//	  "marks": {"impact": "1.3125 s"}
//	}
//
// Fields, with the type, what it is in, and what holds without it:
//
//	version              whole number   1; required
//
//	session              text           what was recorded, for titles
//
//	golfer.name          text           for titles
//	golfer.handed        text           "right" or "left"; right
//	golfer.mass          mass           of the golfer and all they carry; unknown
//	golfer.stature       length         unknown
//
//	lab.up               direction      the positive axis of the laboratory that is
//	                                    upright to the plates, see below
//	lab.target           direction      required, but for tables in swing axes
//	lab.origin           point          centre of the plates used; for tables
//	                                    without corners that of the laboratory
//
//	plates.lead          plate numbers  of the foot nearer the target; with trail
//	plates.trail         plate numbers  of the other foot
//	plates.both          plate numbers  when the feet were not measured apart
//	                                    Without the three: the only plate carries
//	                                    both feet; of two loaded plates the one
//	                                    nearer the target carries the lead foot
//	plates.change        list           corrections of the plates of a C3D file:
//	  plate              whole number   which plate, from 1; required
//	  type               whole number   1 to 7, see grf.PlateType
//	  corners            four points    in the laboratory, in the order of
//	                                    grf.PlateConfig.Corners
//	  origin             point          as grf.PlateConfig.Origin
//	  origin_sign        text           "auto": a positive z is reversed;
//	                                    "as_stated", "reversed"
//	  top_cover          length         laid on the plate since its corners were
//	                                    measured; 0
//	  calibration        rows of numbers   N and N·m per unit of the channels
//	  channel_scale      numbers        factor of each channel; 1
//	  point_correction   12 numbers     see grf.PlateConfig.PointCorrection
//	  channels           texts, numbers labels or numbers (from 1) of the channels
//	  moment_unit        text           of the moments, such as "N·mm"
//	  sense              text           of this plate, as below
//
//	sense                text           "auto": by the sign of the vertical force
//	                                    under load; "reaction": the channels report
//	                                    the ground's push; "action": the golfer's
//
//	zero                 text           "none" (the default) or "file": over the
//	                                    frames that FORCE_PLATFORM:ZERO names
//	zero.method          text           "none", "window", "file"
//	zero.from, zero.to   time           the window
//	zero.max_load        force          that still counts as unloaded; 60 N
//
//	filter               text           "none": the analysis shall not filter
//	filter.method        text           "lowpass", "none"
//	filter.cutoff        frequency      −3 dB of the whole operation; that of the
//	                                    analysis
//	filter.order         whole number   even, of one of two passes; likewise
//	load_threshold       force          below it a centre of pressure is undefined;
//	                                    20 N
//	arm_threshold        force          below it a moment arm is undefined
//	gravity              acceleration   9.80665 m/s²
//	swing_plane          angle          between the swing plane and the ground
//	quiet_stance.from    time           where the golfer stands still; found in
//	quiet_stance.to      time           the recording
//
//	marks                times by name  instants that somebody knows, by name or
//	                                    by number of position (P1 to P10), see
//	                                    MarkNames
//	events               marks by label which events of a C3D file are marks, as in
//	                                    {"Ball": "impact"}; the label may have the
//	                                    context before it. Without it events are
//	                                    marks if they are called like one; {} takes
//	                                    none. marks win over events
//
//	points.landmarks     labels by name places on the body, see LandmarkNames: the
//	                                    label of a point of a C3D file, or a list of
//	                                    labels whose mean it is; left and right are
//	                                    the golfer's
//	points.sd            length         standard deviation of one coordinate of a
//	                                    landmark; unknown
//
//	com.file             text           a table with the centre of mass over time
//	com.columns          three texts    its columns of x, y, z; those called so
//	com.axes             text           "lab" or "swing"; required with file
//	com.separator, com.decimal, com.time, com.rate, com.units, com.ignore
//	                                    as for table
//	com.model            text           instead of a file: from the landmarks, by
//	                                    "de_leva_men", "de_leva_women", "dempster"
//	                                    (see package com), or "pelvis": the landmark
//	                                    pelvis as a proxy
//	com.club                            with a table of segments: a club between the
//	                                    landmarks club_grip and club_head
//	  mass               mass           required
//	  balance            number         place of its centre of mass as a part of the
//	                                    way from grip to head; required
//	com.sd               length         standard deviation of one coordinate of file
//	                                    or model, what changes from one position to
//	                                    the next; that of the analysis
//	com.slow_sd          length         of an error that lasts; of a file none, of a
//	                                    model what is usual
//	com.slow_time        time           how long it lasts; that of the analysis
//	com.delay            time           by how much the stamps of file or model are
//	                                    late; 0
//	com.seek_delay       time           the delay is known to within this only, and
//	                                    to be found; it is known
//	com.height           length         of the centre of mass in the quiet stance
//	com.height_sd        length         its standard deviation; that of the analysis
//
//	feet.axes            text           "lab" or "swing", of points; lab
//	feet.at              time           when labelled points are looked at; the
//	                                    first 0.1 s in which they are seen
//	feet.lead, feet.trail               outlines:
//	  heel, toe          point, text    rear end of the heel and tip of the toes, or
//	                                    labels of points of a C3D file
//	  width              length         greatest width
//
//	c3d.frame_rate       frequency      of the points, when the file has it wrong
//	c3d.length_unit      text           of the file, when it has it wrong
//	c3d.samples          text           "auto", "signed", "unsigned"
//	c3d.event_clock      text           "auto", "capture", "first_frame"
//
//	table.separator      text           "comma", "semicolon", "tab"; detected
//	table.decimal        text           "point", "comma"; detected
//	table.time           text           name of the time column; detected
//	table.rate           frequency      of a table without one
//	table.units          texts by name  units of columns that state none
//	table.ignore         texts          columns that are not to be read
//	table.axes           text           "lab", "swing", "plate": of the columns; lab
//	table.plates         list           which columns make plate 1, 2, …:
//	  axes               text           of this plate
//	  force              three texts    columns of x, y, z
//	  moment             three texts    with force
//	  about              point          of the moments, lab and swing axes; the
//	                                    origin
//	  cop                three texts    or two in plate axes; with force and free
//	  free               text           column of the free moment
//	  channels           texts          raw channels, plate axes; with type
//	  type, corners, origin, top_cover, calibration, channel_scale,
//	  point_correction, sense           as for plates.change; corners are required
//	                                    in plate axes
//
// # Limits
//
// A setup has at most 1 MiB, is nested 16 deep, has a thousand entries in a list or
// map, and names 255 plates; points lie within 10 km. What a capture may hold is
// bounded by the packages that read it, c3d and table. How large a file is read at all
// is up to whoever reads it: Read gets its bytes.
//
// # Tables
//
// In the lists of columns a minus sign before a name turns the column round, and a
// quantity such as "0 m" or "0 N·m" stands for a constant. Moments in plate axes
// are about the measuring origin; without origin that is the centre of the surface.
//
// "none" stands for a component that was not measured: of a pressure mat the force
// is ["none", "none", "Fz"], with cop alone or with moment ["Mx", "My", "none"].
// Then all that needs horizontal force is NaN in the recording.
//
// Without table.plates, columns are told by their names, whatever stands before or
// behind them and in upper or lower case: Fx, Fy, Fz with Mx, My, Mz, or with COPx,
// COPy (COPz) and Tz or free; or a vertical force alone with COPx and COPy or with
// Mx and My. A force without a single value counts as missing. "lead_fx" and "Fx2"
// belong to a foot or plate each.
// A force of a foot or plate of which nothing says where it acts is an error, any
// other one is left aside with a warning.
// Feet are told by lead and trail, or by left and right and the golfer's hand;
// columns of net, total or sum are skipped. Columns of lead and trail are taken to
// be in swing axes when the setup has no lab.
//
// A row with no centre of pressure and a force below the load threshold is a foot
// in the air: it is placed where the foot last stood. With more force it is
// undefined.
//
// # Automatic choices
//
// Each one is a step, and a warning where it could be wrong. Loads of 100 N tell
// action from reaction and loaded from empty plates. Up is the axis of the
// laboratory that the plates lie level to within 2°, in its positive direction.
//
// # Sources
//
// Plates of C3D files: C3D User Guide, FORCE_PLATFORM group; see [Plates] for what
// it leaves open. Thresholds are common practice (no published source).
package capture
