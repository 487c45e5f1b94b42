package pacing

func (s *solver) whyNone() error { return &Infeasible{} }
