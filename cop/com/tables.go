package com

import "fmt"

// Table is a published table of segment masses and centres.
type Table int

const (
	// DeLevaMen and DeLevaWomen: P. de Leva, J. Biomech. 29:1223–1230 (1996),
	// adjusted from Zatsiorsky's 100 men and 15 women, all young and living.
	// The better choice for joint centres.
	DeLevaMen Table = iota
	DeLevaWomen
	// Dempster: eight male cadavers (Dempster 1955), as tabulated in
	// D. A. Winter, Biomechanics and Motor Control of Human Movement, 4th ed.,
	// 2009, table 4.1. It has composite segments for sparse marker sets.
	Dempster
)

// String returns "de_leva_men", "de_leva_women" or "dempster".
func (t Table) String() string {
	switch t {
	case DeLevaMen:
		return "de_leva_men"
	case DeLevaWomen:
		return "de_leva_women"
	case Dempster:
		return "dempster"
	}
	return fmt.Sprintf("Table(%d)", int(t))
}

// MarshalText returns the name as String does; the error wraps [ErrSegment].
func (t Table) MarshalText() ([]byte, error) {
	if t.Rows() == nil {
		return nil, fmt.Errorf("%w: no table %d", ErrSegment, int(t))
	}
	return []byte(t.String()), nil
}

// UnmarshalText takes a name that String returns; the error wraps [ErrSegment].
func (t *Table) UnmarshalText(text []byte) error {
	for _, known := range []Table{DeLevaMen, DeLevaWomen, Dempster} {
		if string(text) == known.String() {
			*t = known
			return nil
		}
	}
	return fmt.Errorf("%w: unknown table %q; known are %v, %v, %v", ErrSegment, text, DeLevaMen, DeLevaWomen, Dempster)
}

// TableRow is a row of a [Table]: a segment between two landmarks, with its
// part of the body mass and the place of its centre of mass as a part of the
// way from Proximal to Distal. Of a paired segment the row holds for one side.
type TableRow struct {
	Name             string
	Proximal, Distal string // landmark names, without side; see [NewModel]
	Mass, Centre     float64
	Paired           bool

	covers []string // the parts of the body in it
}

// Rows returns the rows of the table, nil for an unknown table. Where the
// table offers several rows for one part of the body, the one that [NewModel]
// prefers comes first.
func (t Table) Rows() []TableRow {
	switch t {
	case DeLevaMen:
		return deLeva(0)
	case DeLevaWomen:
		return deLeva(1)
	case Dempster:
		return dempster()
	}
	return nil
}

// Parts of the body. All rows of a table divide these among them.
var (
	trunkParts = []string{"upper trunk", "middle trunk", "lower trunk"}
	armParts   = []string{"upper arm", "forearm", "hand"}
	legParts   = []string{"thigh", "shank", "foot"}
)

// deLeva returns the 1996 table, which offers alternative ends for several
// segments: column 0 for men, 1 for women. The shank's main row there ends at
// the lateral malleolus; here the ankle's joint centre comes first, because
// that is what marker models give. Masses add up to 1.0000 for men and, in
// print, to 0.9999 for women.
func deLeva(sex int) []TableRow {
	row := func(paired bool, name, proximal, distal string, mass, centre [2]float64, covers ...string) TableRow {
		return TableRow{name, proximal, distal, mass[sex], centre[sex], paired, covers}
	}
	type two = [2]float64
	head, trunk := two{0.0694, 0.0668}, two{0.4346, 0.4257}
	upper, middle, lower := two{0.1596, 0.1545}, two{0.1633, 0.1465}, two{0.1117, 0.1247}
	arm, fore, hand := two{0.0271, 0.0255}, two{0.0162, 0.0138}, two{0.0061, 0.0056}
	thigh, shank, foot := two{0.1416, 0.1478}, two{0.0433, 0.0481}, two{0.0137, 0.0129}
	return []TableRow{
		row(false, "head", "vertex", "mid_gonion", head, two{0.5976, 0.5894}, "head"),
		row(false, "head", "vertex", "cervicale", head, two{0.5002, 0.4841}, "head"),
		row(false, "trunk", "suprasternale", "mid_hip", trunk, two{0.4486, 0.4151}, trunkParts...),
		row(false, "trunk", "cervicale", "mid_hip", trunk, two{0.5138, 0.4964}, trunkParts...),
		row(false, "trunk", "mid_shoulder", "mid_hip", trunk, two{0.4310, 0.3782}, trunkParts...),
		row(false, "upper trunk", "suprasternale", "xiphion", upper, two{0.2999, 0.2077}, "upper trunk"),
		row(false, "upper trunk", "cervicale", "xiphion", upper, two{0.5066, 0.5050}, "upper trunk"),
		row(false, "middle trunk", "xiphion", "omphalion", middle, two{0.4502, 0.4512}, "middle trunk"),
		row(false, "lower trunk", "omphalion", "mid_hip", lower, two{0.6115, 0.4920}, "lower trunk"),
		row(true, "upper arm", "shoulder", "elbow", arm, two{0.5772, 0.5754}, "upper arm"),
		row(true, "forearm", "elbow", "wrist", fore, two{0.4574, 0.4559}, "forearm"),
		row(true, "forearm", "elbow", "stylion", fore, two{0.4608, 0.4592}, "forearm"),
		row(true, "hand", "wrist", "knuckle3", hand, two{0.7900, 0.7474}, "hand"),
		row(true, "hand", "wrist", "fingertip3", hand, two{0.3624, 0.3427}, "hand"),
		row(true, "hand", "stylion", "fingertip3", hand, two{0.3691, 0.3502}, "hand"),
		row(true, "hand", "stylion", "knuckle3", hand, two{0.7948, 0.7534}, "hand"),
		row(true, "thigh", "hip", "knee", thigh, two{0.4095, 0.3612}, "thigh"),
		row(true, "shank", "knee", "ankle", shank, two{0.4395, 0.4352}, "shank"),
		row(true, "shank", "knee", "lateral_malleolus", shank, two{0.4459, 0.4416}, "shank"),
		row(true, "shank", "knee", "sphyrion", shank, two{0.4524, 0.4481}, "shank"),
		row(true, "foot", "heel", "toe_tip", foot, two{0.4415, 0.4014}, "foot"),
	}
}

// dempster returns Winter's table 4.1, arms first, so that a row for head,
// arms and trunk together is used only when there are no arms.
func dempster() []TableRow {
	row := func(paired bool, name, proximal, distal string, mass, centre float64, covers ...string) TableRow {
		return TableRow{name, proximal, distal, mass, centre, paired, covers}
	}
	headTrunk := append([]string{"head"}, trunkParts...)
	var arms []string
	for _, p := range armParts {
		arms = append(arms, p+" left", p+" right")
	}
	return []TableRow{
		row(true, "hand", "wrist", "knuckle2", 0.006, 0.506, "hand"),
		row(true, "forearm and hand", "elbow", "stylion", 0.022, 0.682, "forearm", "hand"),
		row(true, "forearm", "elbow", "stylion", 0.016, 0.430, "forearm"),
		row(true, "upper arm", "shoulder", "elbow", 0.028, 0.436, "upper arm"),
		row(true, "total arm", "shoulder", "stylion", 0.050, 0.530, armParts...),
		row(false, "head and neck", "c7_t1", "ear", 0.081, 1.000, "head"),
		row(false, "head, arms and trunk", "mid_trochanter", "mid_shoulder", 0.678, 0.626, append(arms, headTrunk...)...),
		row(false, "trunk, head and neck", "mid_trochanter", "mid_shoulder", 0.578, 0.660, headTrunk...),
		row(false, "trunk", "mid_trochanter", "mid_shoulder", 0.497, 0.500, trunkParts...),
		row(false, "thorax", "c7_t1", "t12_l1", 0.216, 0.820, "upper trunk"),
		row(false, "abdomen and pelvis", "t12_l1", "mid_trochanter", 0.281, 0.270, "middle trunk", "lower trunk"),
		row(false, "thorax and abdomen", "c7_t1", "l4_l5", 0.355, 0.630, "upper trunk", "middle trunk"),
		row(false, "abdomen", "t12_l1", "l4_l5", 0.139, 0.440, "middle trunk"),
		row(false, "pelvis", "l4_l5", "mid_trochanter", 0.142, 0.105, "lower trunk"),
		row(true, "foot", "lateral_malleolus", "metatarsal2", 0.0145, 0.500, "foot"),
		row(true, "foot and shank", "knee", "medial_malleolus", 0.061, 0.606, "shank", "foot"),
		row(true, "shank", "knee", "medial_malleolus", 0.0465, 0.433, "shank"),
		row(true, "thigh", "trochanter", "knee", 0.100, 0.433, "thigh"),
		row(true, "total leg", "trochanter", "medial_malleolus", 0.161, 0.447, legParts...),
	}
}
