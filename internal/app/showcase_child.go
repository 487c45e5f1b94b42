package app

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/studio"
)

// view judges a piece: where each child stands for it.
func (s *stage) view(p studio.Piece) (PieceView, error) {
	v := PieceView{Piece: p, Class: s.Card.Name, Term: s.Term.Name}
	v.Day, v.DayIs = s.dayOf(p)
	v.Over = v.Day.Before(s.today)
	s.until(v.Day)
	v.Lessons = len(s.ahead(s.last))
	seen := map[uuid.UUID]*odds{}
	for _, c := range s.pupils {
		keys := p.RungsOf(c.ID)
		if len(keys) == 0 {
			v.Without = append(v.Without, c.FullName())
			continue
		}
		child := PieceChild{ID: c.ID, Name: c.FullName(), Short: c.ShortName(), Parts: partsOf(p, c.ID)}
		seen[c.ID] = newOdds()
		for _, key := range keys {
			r, err := s.childRung(p, v.Day, c.ID, key, seen[c.ID])
			if err != nil {
				return v, err
			}
			child.Rungs = append(child.Rungs, r)
		}
		child.Fit, child.Words = least(child.Rungs), childWords(child.Rungs)
		v.Children = append(v.Children, child)
	}
	v.Rungs = s.pieceRungs(p, v.Children)
	v.Loose = s.loose(v)
	v.Spotting = s.spotting(v)
	v.Equipment = s.equipment(v)
	return v, nil
}

func partsOf(p studio.Piece, child uuid.UUID) []string {
	var names []string
	for _, part := range p.Parts {
		if !part.Everybody && slices.Contains(part.Children, child) {
			names = append(names, part.Name)
		}
	}
	return names
}

// childRung judges one rung of a piece for one child.
func (s *stage) childRung(p studio.Piece, day time.Time, child uuid.UUID, key string, seen *odds) (ChildRung, error) {
	board := s.boards[child]
	st, _ := board.On(key)
	rung := s.rungs[key]
	out := ChildRung{Key: key, Name: rung.Name, State: string(st.State)}
	limits := s.limits(child, day)
	limit := forbidden(limits, rung.Load, rung.Inverted)
	var err error
	switch {
	case limit != "":
		out.Fit, out.Words = LimitedFit, "A care limit: "+limit+"."
	case st.State == standing.Secure:
		out.Fit, out.Chance, out.Low, out.High = ReadyFit, 1, 1, 1
		out.Words = "Secure: " + tallyWords(st.Sides) + "."
	default:
		if out.Chance, out.Low, out.High, err = s.span(child, key, seen); err != nil {
			return out, err
		}
		out.Fit, out.Words = NotYetFit, s.chanceWords(out, st)
		if out.Chance >= LikelyFrom {
			out.Fit = LikelyFit
		}
	}
	if out.Fit != ReadyFit {
		out.Offer = s.offer(child, key, limits)
	}
	if swap := p.Swap(child, key); swap != nil {
		s.take(&out, *swap, child, limits)
	}
	return out, nil
}

// take judges what was accepted in place of a rung, as of now.
func (s *stage) take(out *ChildRung, swap studio.PieceSwap, child uuid.UUID, limits []studio.CareLimit) {
	kept := ChildSwap{Name: InThePicture, Ready: out.Fit == ReadyFit}
	if swap.InsteadKey != nil {
		r := s.rungs[*swap.InsteadKey]
		kept.Key, kept.Name = r.Key, r.Name
		st, _ := s.boards[child].On(r.Key)
		switch limit := forbidden(limits, r.Load, r.Inverted); {
		case limit != "":
			kept.Broken = "A care limit now forbids it: " + limit + "."
		case st.State != standing.Secure:
			kept.Broken = "It is no longer secure: " + st.Reason
		case !asks(r).Within(asks(s.rungs[out.Key])):
			kept.Broken = "It now asks for more than the rung that it replaces."
		}
	}
	out.Swap = &kept
	if kept.Broken == "" {
		out.Fit, out.Offer = SwappedFit, nil
	}
}

// InThePicture is what a child does where no rung will do.
const InThePicture = "Stands in the picture"

// offer finds the safest rung in place of one.
func (s *stage) offer(child uuid.UUID, key string, limits []studio.CareLimit) *Offer {
	found := s.boards[child].Instead(key, func(k string) standing.Asks { return asks(s.rungs[k]) }, func(k string) bool {
		r := s.rungs[k]
		return forbidden(limits, r.Load, r.Inverted) == ""
	})
	o := &Offer{Key: found.RungID, Lost: "Not shown then: " + listOf(s.namesOf(found.Lost)) + "."}
	for _, p := range found.Passed {
		o.Passed = append(o.Passed, s.rungs[p.RungID].Name+": "+passedWords(p))
	}
	if found.RungID == "" {
		o.Name = InThePicture
		o.Why = "Another part: nothing below it is secure, allowed and no harder on the body, so no rung is offered."
		return o
	}
	st, _ := s.boards[child].On(found.RungID)
	o.Name = s.rungs[found.RungID].Name
	o.Why = fmt.Sprintf("The highest rung below it that is secure (%s), loads no part of the body more and needs no more spotters.", tallyWords(st.Sides))
	return o
}

func passedWords(p standing.Passed) string {
	var why []string
	for _, w := range []struct {
		is    bool
		words string
	}{{!p.Secure, "not secure now"}, {p.Forbidden, "a care limit forbids it"}, {p.More, "asks for more of the body or of spotters"}} {
		if w.is {
			why = append(why, w.words)
		}
	}
	return listOf(why)
}

// chanceWords say how likely a rung is by the day, in words before figures.
func (s *stage) chanceWords(r ChildRung, st standing.Standing) string {
	words := "Not begun"
	switch {
	case st.State == standing.Recheck:
		words = "Was secure, due a recheck"
	case st.Marks > 0:
		words = tallyWords(st.Sides)
		words = strings.ToUpper(words[:1]) + words[1:]
	}
	if len(st.Missing) > 0 {
		words += "; first " + listOf(s.namesOf(st.Missing))
	}
	if r.High == 0 {
		return words + ". No lesson until then has it, as the term is laid out."
	}
	return fmt.Sprintf("%s. %s.", words, outOf(r))
}

// outOf is "Secure by then with 72 chances in 100 (55 to 84)".
func outOf(r ChildRung) string {
	return fmt.Sprintf("Secure by then with %s chances in 100 (%s to %s)", hundredths(r.Chance), hundredths(r.Low), hundredths(r.High))
}

// hundredths never rounds a chance to certainty.
func hundredths(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "under 1"
	case p < 1 && p > 0.99:
		return "over 99"
	}
	return fmt.Sprintf("%.0f", 100*p)
}

var fitOrder = []Fit{ReadyFit, SwappedFit, LikelyFit, NotYetFit, LimitedFit}

// least is the fit of a child: that of the rung which is furthest from ready.
func least(rungs []ChildRung) Fit {
	worst := ReadyFit
	for _, r := range rungs {
		if slices.Index(fitOrder, r.Fit) > slices.Index(fitOrder, worst) {
			worst = r.Fit
		}
	}
	return worst
}

func childWords(rungs []ChildRung) string {
	of := map[Fit][]string{}
	for _, r := range rungs {
		of[r.Fit] = append(of[r.Fit], r.Name)
	}
	if len(of[ReadyFit]) == len(rungs) {
		return "Has every rung secure."
	}
	parts := []string{fmt.Sprintf("Ready for %d of %d", len(of[ReadyFit]), len(rungs))}
	for _, f := range []struct {
		fit   Fit
		words string
	}{{SwappedFit, "does another in place of "}, {LikelyFit, "likely: "}, {NotYetFit, "not yet: "}, {LimitedFit, "care limit on "}} {
		if names := of[f.fit]; len(names) > 0 {
			parts = append(parts, f.words+listOf(names))
		}
	}
	return strings.Join(parts, "; ") + "."
}

// pieceRungs sums up each rung over all who do it, in the order of the parts.
func (s *stage) pieceRungs(p studio.Piece, children []PieceChild) []PieceRung {
	var all []PieceRung
	for _, part := range p.Parts {
		for _, key := range part.Rungs {
			if i := slices.IndexFunc(all, func(r PieceRung) bool { return r.Key == key }); i >= 0 {
				all[i].Part += ", " + part.Name
				continue
			}
			r := PieceRung{Key: key, Name: s.rungs[key].Name, Ladder: s.ladder[s.of[key]].Name, Part: part.Name}
			r.count(children)
			all = append(all, r)
		}
	}
	return all
}

func (r *PieceRung) count(children []PieceChild) {
	into := map[Fit]*int{ReadyFit: &r.Ready, LikelyFit: &r.Likely, NotYetFit: &r.NotYet, LimitedFit: &r.Limited, SwappedFit: &r.Swapped}
	sum := 0
	for _, c := range children {
		for _, x := range c.Rungs {
			if x.Key == r.Key {
				*into[x.Fit]++
				sum++
			}
		}
	}
	parts := []string{fmt.Sprintf("%d of %d ready", r.Ready, sum)}
	for _, x := range []struct {
		n     int
		words string
	}{{r.Likely, "likely by the day"}, {r.NotYet, "not yet"}, {r.Limited, "held back by a care limit"}, {r.Swapped, "with another rung"}} {
		if x.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", x.n, x.words))
		}
	}
	r.Words = listOf(parts) + "."
}

// loose are the rungs that somebody has not begun and that no week of the term has until the day.
func (s *stage) loose(v PieceView) []string {
	var names []string
	for _, r := range v.Rungs {
		if placed, in := s.plan[r.Key]; in && placed.Week > 0 && placed.Week <= s.last {
			continue
		}
		open := slices.ContainsFunc(v.Children, func(c PieceChild) bool {
			return slices.ContainsFunc(c.Rungs, func(x ChildRung) bool {
				st, _ := s.boards[c.ID].On(x.Key)
				return x.Key == r.Key && x.Fit == NotYetFit && st.Marks == 0
			})
		})
		if open {
			names = append(names, r.Name)
		}
	}
	return names
}
