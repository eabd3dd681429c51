package page

import (
	"fmt"
)

type fact struct{ Name, Text string }

func factsOf(s *Subject) []fact {
	rec := s.Recording
	plates := "both feet on one plate"
	if rec.Split() {
		plates = "each foot measured apart"
	}
	f := []fact{
		{"Capture", s.Capture},
		{"Body weight", both(s.BodyWeight, "N")},
		{"Mass, all carried", both(s.Mass, "kg")},
		{"Swings", s.handed() + "-handed"},
		{"Measured", fmt.Sprintf("%s, %s, %s", plates, join(fmt.Sprintf("%g", rec.Rate), "Hz"), join(number(rec.End()-rec.Start, 1), "s"))},
	}
	if rec.Stature > 0 {
		f = append(f, fact{"Stature", both(rec.Stature, "m")})
	}
	return f
}

func settingsOf(s *Subject) []fact {
	set := s.Settings
	filter := "none"
	if set.Cutoff > 0 {
		filter = fmt.Sprintf("Butterworth, order %d run forward and backward, −3 dB of the whole at %g Hz", set.Order, set.Cutoff)
	}
	return []fact{
		{"Low-pass filter", filter},
		{"A foot is loaded from", both(set.MinVertical, "N") + " of vertical force"},
		{"A moment arm needs", both(set.MinPlane, "N") + " of force in its plane"},
		{"Swing plane", number(degrees(set.Plane), 0) + "° to the ground"},
		{"Gravity", number(set.Gravity, 5) + nbsp + "m/s²"},
		{"Centre of mass", set.COM},
		{"Algorithms", "version " + set.Version},
	}
}
