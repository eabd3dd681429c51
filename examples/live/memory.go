package main

import (
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
)

// memory keeps the last seconds as they were measured, unfiltered, so that a swing
// can be worked out afterwards by means that a live chain does not have.
type memory struct {
	rate        float64
	together    bool         // one plate carries both feet: lead holds their sum
	lead, trail []grf.Wrench // rings
	at          int          // where the next sample goes
	held        int          // samples in the rings
	address     float64      // s, of the swing at hand; NaN when not known
	swinging    bool
	swings      int
}

const (
	rememberFor   = 14.0 // s
	beforeAddress = 2.5  // s of the stance that belong to a swing
)

// captured is a swing on its way to the analysis.
type captured struct {
	number int
	rec    *grf.Recording
	end    float64 // s, on the chain's clock
}

func newMemory(c live.Config) memory {
	n := int(rememberFor * c.Rate)
	return memory{
		rate: c.Rate, together: c.Inputs[0].Foot == live.Both,
		lead: make([]grf.Wrench, n), trail: make([]grf.Wrench, n), address: math.NaN(),
	}
}

func (m *memory) reset() { m.at, m.held, m.swinging, m.address = 0, 0, false, math.NaN() }

func (m *memory) keep(lead, trail grf.Wrench) {
	m.lead[m.at], m.trail[m.at] = lead, trail
	if m.at++; m.at == len(m.lead) {
		m.at = 0
	}
	m.held = min(m.held+1, len(m.lead))
}

// push takes in a frame and returns the swing that it completes, if any.
func (m *memory) push(f *live.Frame, stature float64) (captured, bool) {
	if f.Lost >= uint64(len(m.lead)) {
		m.reset()
	} else {
		for range f.Lost {
			m.keep(grf.NaN(), grf.NaN())
		}
	}
	if m.together {
		m.keep(f.MeasuredNet, grf.Wrench{})
	} else {
		m.keep(f.MeasuredLead, f.MeasuredTrail)
	}
	before := m.swinging
	m.swinging = f.Motion == phase.Swinging
	if m.swinging && !before {
		m.address = math.NaN()
	}
	for _, e := range f.Events {
		if e.Name == phase.Address {
			m.address = e.Time
		}
	}
	if !before || m.swinging || math.IsNaN(m.address) {
		return captured{}, false
	}
	m.swings++
	n := min(m.held, int((f.Time-m.address+beforeAddress)*m.rate))
	rec := &grf.Recording{Rate: m.rate, Start: f.Time - float64(n-1)/m.rate, Stature: stature}
	for i := range n {
		k := (m.at - n + i + len(m.lead)) % len(m.lead)
		if m.together {
			rec.Net = append(rec.Net, m.lead[k])
		} else {
			rec.Lead, rec.Trail = append(rec.Lead, m.lead[k]), append(rec.Trail, m.trail[k])
		}
	}
	return captured{number: m.swings, rec: rec, end: f.Time}, true
}
