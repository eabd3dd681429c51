package swing

import "example.com/momentarm/phase"

// Words returns an event's name as people say it.
func Words(n phase.Name) string {
	switch n {
	case phase.TrailLoadPeak:
		return "trail load peak"
	case phase.LateralTurn:
		return "the lateral force's turn to the target"
	case phase.LowestVertical:
		return "lowest vertical force"
	case phase.EvenLoad:
		return "50–50 load"
	case phase.LateralPeak:
		return "lateral force peak"
	case phase.FrontalTorquePeak:
		return "frontal torque peak"
	case phase.LeadVerticalPeak:
		return "lead vertical peak"
	case phase.VerticalTorquePeak:
		return "vertical-axis torque peak"
	case phase.ShaftParallelBack:
		return "shaft parallel back"
	case phase.LeadArmParallelBack:
		return "lead arm parallel back"
	case phase.LeadArmParallelDown:
		return "lead arm parallel down"
	case phase.ShaftParallelDown:
		return "shaft parallel down"
	case phase.ShaftParallelThrough:
		return "shaft parallel through"
	case phase.TrailArmParallelAfter:
		return "trail arm parallel through"
	}
	return string(n) // one word
}
