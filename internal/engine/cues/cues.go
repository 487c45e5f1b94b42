// Package cues works out which correction comes first: from the faults seen lately to their likely causes, and from those
// to a few cues, the drills that answer them, and the check that best tells two causes apart.
//
// Causes show as faults by a noisy-OR: each cause that is there shows as a fault with its own strength, independently of the
// others, and a fault shows without any listed cause with the leak. (Pearl 1988, Probabilistic Reasoning in Intelligent
// Systems, section 4.3, from memory.) The turns of one child share a body and a day, so they are no independent trials:
// a fault is one piece of evidence, seen or not; how often it was seen weighs its trouble only.
//
// The numbers are a studio's guesses put together consistently. They say where to look first, not what is so.
package cues

// Fault is something that may go wrong, seen in Seen of the Turns last turns in which the teacher looked for it (0 when
// nobody did). A Safety fault can hurt; it counts full, and more, however seldom seen.
type Fault struct {
	ID     string
	Name   string
	Safety bool
	Seen   int
	Turns  int
}

// Cause is a reason behind faults. Prior (0 to 1, both excluded) is how likely it is before anything is seen; 0 takes the
// one of the Settings. Before are ids of causes that this one leads to. They set the order of cues and raise no chance;
// ids that are not listed count for nothing.
type Cause struct {
	ID     string
	Prior  float64
	Before []string
}

// Link says that a cause alone shows as a fault with chance Strength (0 to 1). Name and Cue are the words for the cause and
// its correction at this fault; Drills are ids of those that answer it there.
type Link struct {
	Fault    string
	Cause    string
	Strength float64
	Name     string
	Cue      string
	Drills   []string
}

// Input is one child at one station. The order of the lists does not matter.
type Input struct {
	Faults []Fault
	Causes []Cause
	Links  []Link
}

// Likelihood is how likely a cause is: Prior before and Posterior after what was seen.
type Likelihood struct {
	Cause     string
	Name      string
	Prior     float64
	Posterior float64
}

// Cue is a correction to give for a cause. Explains is the trouble that the cause alone is expected to explain. Reason says
// in a sentence what was seen, how often, and how likely the cause is.
type Cue struct {
	Cause     string
	Name      string
	Words     string
	Posterior float64
	Explains  float64
	Reason    string
}

// Drill is an exercise that answers chosen causes: Causes in the order of their cues, Posterior that of the likeliest.
type Drill struct {
	ID        string
	Causes    []string
	Posterior float64
}

// Choice is what to say, in this order, and the drills for it, best first. Trouble is that of all faults seen: the share of
// turns of each, or the safety weight. Explained is the part that the chosen causes together are expected to explain.
type Choice struct {
	Cues      []Cue
	Drills    []Drill
	Trouble   float64
	Explained float64
}
