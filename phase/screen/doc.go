// Package screen holds the measures of one swing against bands that a coach
// writes, and says in plain sentences what lies outside of them and why that
// matters in mechanics. It says nothing about what a golfer ought to do.
//
//	measure ± sd                 band              verdict
//	                         min       max
//	    |---o---|             |         |          outside
//	               |---o---|  |         |          outside
//	                      |---o---|     |          not decidable
//	                          | |---o---|          within
//
// The line through a value is its uncertainty: the value ∓ k standard
// deviations, with the coverage factor k = 2 unless [Options] say otherwise
// (about 95 %: JCGM 100:2008, 6.3.3). Outside and within are claimed only when
// all of it is outside or within; what lies across an edge is not decidable and
// claims nothing. A measure without a known standard deviation is held by its
// value alone, and its finding says so.
//
// # Order
//
// Findings come most serious first. Serious means: many steps outside. A step is
// how much outside counts as one, in the unit of the band; whoever writes a band
// chooses it. Two findings with the same number of steps keep the order of their
// bands.
//
// # Doubts
//
// Findings rest on an analysis that may itself be in doubt. When its warnings say
// that feet, target, hand or units are probably not what was stated, there are no
// findings at all: [Report.HeldBack]. When they say that the forces do not obey
// mechanics, or a set that only warns finds a force or torque that no golfer makes,
// every finding begins with the words "In doubt" and the warnings: [Report.Doubts],
// [Finding.Doubts]. An implausible time or share does so only in findings that show
// it.
//
// # Bands
//
// A set of bands is a JSON text:
//
//	{
//	  "version": 1,
//	  "name": "what the set is called",
//	  "note": "what it is for (may be left out)",
//	  "warn_only": false,
//	  "bands": [
//	    {
//	      "measure": "frontal_arm_at_peak",
//	      "label": "frontal moment arm at the torque peak",
//	      "unit": "m",
//	      "min": 0.13,
//	      "step": 0.03,
//	      "below": "The force passes this close to the centre of mass, so …",
//	      "beside": ["frontal_force_at_peak"],
//	      "caution": "A harder push loads the knees more.",
//	      "source": "common practice (no published source)",
//	      "level": "common_practice"
//	    }
//	  ]
//	}
//
// The fields of a band:
//
//	measure  name of a measure of package swing
//	label    what to call it in sentences; left out: the measure's own label
//	unit     of min, max and step: the measure's, or one that package units can
//	         turn into it, such as "in" for a measure in metres
//	min      least value within the band; left out: no lower edge
//	max      greatest value within the band; left out: no upper edge; at least one
//	         of the two
//	step     how much outside counts as one step; left out: half of the way from
//	         min to max; needed when one of them is missing
//	below    reason in mechanics, said when the value is below min
//	above    the same for a value above max
//	beside   names of measures to show with a finding
//	caution  what can hurt, said with a finding
//	source   where the band comes from; may be left out for "own"
//	level    how good that source is: see [Level]; left out: "own"
//
// The findings of a set with "warn_only" are warnings: the set says what is
// plausible, and what lies outside of it may be a wrong unit, sign or plate.
//
// A set has at most 1 MiB and 1000 bands, a text 2000 characters.
//
// A field that is not in this list is an error that names the nearest one; so is
// a field that is given twice.
//
// [Starter] is a neutral set to begin with and to change. [Published] holds
// figures of the golf literature as what they are, plausibility: they describe a
// few golfers in a few laboratories, most are known second-hand, and none is a
// norm.
package screen
