// Package live runs the whole way from raw plate channels to torque and events
// while it happens, one sample in, one frame out:
//
//	channels of each plate
//	  − zero                           grf.Baseline
//	  plate → wrench, in swing axes    grf.Plate, grf.Axes
//	  low-pass, one pass               filter.Causal; where it can, filter.FrontEnd does all three
//	  centre of pressure, share        cop
//	  centre of mass                   com.Tracker
//	  torque and arms about it         torque
//	  events                           phase.Online
//
// A [Chain] composes these parts and adds what only a live system needs: it
// bridges and marks lost samples, watches over the device's health, and refuses
// to zero plates that are loaded or to weigh a golfer who moves. Every part can
// be used alone or replaced; package live holds no arithmetic that they have.
//
// # States
//
//	         Zero               Zero accepted             Weigh
//	Idle ------------> Zeroing ---------------> Zeroed ----------> Weighing
//	  ^                   |                       ^  ^                |   |
//	  +-------------------+                       |  +----------------+   | accepted
//	    refused: loaded, not steady,              |     refused: nobody,  |
//	    samples lost                              |     not still, …      v
//	                                              +--------------------- Ready
//	                                                 the golfer left
//
// A refusal says why and leads back to where the request came from. Forces,
// centres of pressure and the share come out in every state; the centre of mass
// and what needs it are NaN until the golfer was weighed.
//
// # Time
//
// Samples are counted by their sequence numbers, so a lost one moves nothing in
// time; a [Counter] helps devices whose numbers begin again. What a frame says of
// the force is what happened [Chain.Delay] earlier, because a live filter is late;
// everything in one frame is late by the same time, and the times of events are
// corrected for it.
//
// # Keeping a recording
//
// Unfiltered frames make a [grf.Recording], which package swing works out with more
// measures and with its uncertainty: see the example of [Frame].
//
// # Pressure mats
//
// Without horizontal force there is no torque, and no use for a Chain. Loads, centres
// of pressure and events of a mat come live from cop.Grid, filter.Causal and
// phase.Online: see the example of a mat.
//
// # Speed
//
// [Chain.Push] allocates nothing, except when a request or an event is decided;
// events take some 20 ms at up to four samples of a swing (see
// [phase.Online]), during which samples must be able to wait, as they do in the
// buffer of any connection. The benchmark has the figure of all other samples.
//
// # Sources
//
// Each stage names its formula's source where it is: packages grf, filter, cop, com
// and torque. The states, and when a golfer counts as standing still, are common
// practice (no published source); [Config] has their limits.
//
// This is mechanics, not medical or training advice.
package live

// Version names the algorithms behind a [Frame]. It changes when the same samples
// give other numbers, and belongs into whatever keeps or shows them.
const Version = "1"
