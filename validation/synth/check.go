package synth

func (s *Swing) check() error { return nil }
