package phase

// Definition says in words what the event is, for methods sections and legends:
// "highest vertical force under the trail foot". It is empty for a name that is
// none of [Names]. The definitions are common practice (no published source).
func (n Name) Definition() string { return definitions[n] }

var definitions = map[Name]string{
	Address:            "last instant of the rest before the swing",
	Onset:              "instant at which the vertical force under a foot leaves its mean of the quiet stance by 2 % of body weight for good",
	TrailLoadPeak:      "highest vertical force under the trail foot",
	LateralTurn:        "last passage through zero of the lateral force on its way to its peak toward the target",
	LowestVertical:     "lowest vertical force of both feet",
	EvenLoad:           "instant at which both feet carry the same on the way to the lead foot",
	LateralPeak:        "highest lateral force toward the target",
	FrontalTorquePeak:  "highest moment about the forward axis through the centre of mass",
	LeadVerticalPeak:   "highest vertical force under the lead foot",
	VerticalTorquePeak: "highest moment about the vertical axis through the centre of mass",
	Impact:             "instant at which the club meets the ball",
	Finish:             "instant from which both feet's vertical forces stay within 2 % of body weight of their means in the quiet stance after the swing",

	ShaftParallelBack:     "club shaft level in the backswing",
	LeadArmParallelBack:   "lead arm level in the backswing",
	Top:                   "end of the backswing",
	LeadArmParallelDown:   "lead arm level in the downswing",
	ShaftParallelDown:     "club shaft level in the downswing",
	ShaftParallelThrough:  "club shaft level after impact",
	TrailArmParallelAfter: "trail arm level after impact",
}
