package app

import (
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// StayLine is what became of the children of a class in the term after it, and where they came from. Each child who was in the class on
// any day of the term counts once, in the first of the ways below that holds.
type StayLine struct {
	TermClass
	Children int
	Next     string // the term after it; "" while nobody has a place in one
	Begun    bool   // it has begun
	Same     int    // in the class of the same name
	Moved    int    // in another class from its first day on, as when a term is rolled over
	Later    int    // in another class, since some later day
	Out      int    // in no class, but still with the studio
	Left     int    // left the studio
	Gone     []GoneChild
	Erased   int     // of those who left, whose data were erased: nobody knows who they were
	Low      float64 // 95% interval of the share that stayed
	High     float64
	Before   string // the term before it; "" when there is none
	Joined   int    // in no class of the term before
	Back     int    // of those, in one of an earlier term
}

// GoneChild is a child of the class who is in no class of the next term.
type GoneChild struct {
	ID   uuid.UUID
	Name string
	Left bool // the studio
}

// Stayed counts the children who have a place in the next term.
func (s StayLine) Stayed() int { return s.Same + s.Moved + s.Later }

// stays follows the children of each term into the next.
func (b *termsBook) stays() []StayLine {
	var lines []StayLine
	for _, g := range b.groups {
		line := StayLine{TermClass: g.TermClass, Children: len(g.children)}
		if next, ok := b.after(g.term); ok {
			line.Next, line.Begun = next.Name, !next.StartsOn.After(b.today)
			for _, child := range g.children {
				line.follow(b.places[child], b.wayOn(child, g, next))
			}
			line.Low, line.High, _ = standing.Wilson(line.Stayed(), line.Children) // never more than there are
		}
		if before, ok := b.before(g.term); ok {
			line.Before = before.Name
			for _, child := range g.children {
				joined, back := b.cameFrom(child, before)
				line.Joined += joined
				line.Back += back
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// after is the first term that begins once a term is over and in which somebody has a place.
func (b *termsBook) after(term studio.Term) (studio.Term, bool) {
	for _, next := range b.Terms {
		if next.StartsOn.After(term.EndsOn) && b.peopled(next) {
			return next, true
		}
	}
	return studio.Term{}, false
}

// before is the last term with children that was over when a term began.
func (b *termsBook) before(term studio.Term) (studio.Term, bool) {
	for _, earlier := range slices.Backward(b.Terms) {
		if earlier.EndsOn.Before(term.StartsOn) && b.peopled(earlier) {
			return earlier, true
		}
	}
	return studio.Term{}, false
}

func (b *termsBook) peopled(term studio.Term) bool {
	return slices.ContainsFunc(b.Places, func(p postgres.TermPlace) bool { return b.class[p.ClassID].TermID == term.ID && inTerm(p, term) })
}

// way is what became of a child.
type way int

const (
	staysInClass way = iota
	movesOn
	comesLater
	hasNoClass
	hasLeft
)

// wayOn is the way of a child of a group into the next term.
func (b *termsBook) wayOn(child uuid.UUID, g group, next studio.Term) way {
	var names []string // of the classes that it was in
	for _, p := range b.places[child] {
		if slices.Contains(g.classes, p.ClassID) {
			names = append(names, b.class[p.ClassID].Name)
		}
	}
	best := hasNoClass
	for _, p := range b.places[child] {
		c := b.class[p.ClassID]
		if c.TermID != next.ID || !inTerm(p, next) {
			continue
		}
		switch {
		case slices.Contains(names, c.Name):
			best = min(best, staysInClass)
		case !p.FromOn.After(next.StartsOn):
			best = min(best, movesOn)
		default:
			best = min(best, comesLater)
		}
	}
	if p := b.places[child][0]; best == hasNoClass && p.LeftOn != nil && !p.LeftOn.After(earlier(next.EndsOn, b.today)) {
		return hasLeft
	}
	return best
}

// follow counts a child, whose places these are.
func (s *StayLine) follow(places []postgres.TermPlace, on way) {
	switch on {
	case staysInClass:
		s.Same++
		return
	case movesOn:
		s.Moved++
		return
	case comesLater:
		s.Later++
		return
	case hasNoClass:
		s.Out++
	case hasLeft:
		s.Left++
	}
	if places[0].Name == "" {
		s.Erased++
		return
	}
	s.Gone = append(s.Gone, GoneChild{ID: places[0].ChildID, Name: places[0].Name, Left: on == hasLeft})
}

// cameFrom counts a child who was in no class of the term before: as joined, and as back if it was in a class of an earlier one.
func (b *termsBook) cameFrom(child uuid.UUID, before studio.Term) (joined, back int) {
	joined = 1
	for _, p := range b.places[child] {
		term := b.term[b.class[p.ClassID].TermID]
		switch {
		case term.ID == before.ID && inTerm(p, term):
			return 0, 0
		case term.EndsOn.Before(before.StartsOn) && inTerm(p, term):
			back = 1
		}
	}
	return joined, back
}
