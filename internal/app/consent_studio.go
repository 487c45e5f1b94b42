package app

import (
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ConsentCount is one purpose over the whole studio: children who are there, by answer to the present words.
type ConsentCount struct {
	studio.ConsentText
	Yes, No, Open int
}

// ConsentChild is a child with its answers, in the order of studio.Purposes: "yes", "no" or "" for none. Of e-mail it is "yes" where
// any guardian agreed.
type ConsentChild struct {
	ID      uuid.UUID
	Name    string
	Answers []string
}

// StudioConsents is what families answered.
type StudioConsents struct {
	Counts   []ConsentCount
	Children []ConsentChild
}

// StudioConsents shows the owner the words that families are asked and what they answered.
func (a *App) StudioConsents(ctx context.Context, actor studio.Actor) (StudioConsents, error) {
	var view StudioConsents
	err := a.within(ctx, actor, studio.KeepConsents, func(t *postgres.Tx) error {
		texts, err := t.ConsentTexts(ctx)
		if err != nil {
			return err
		}
		children, err := t.ChildDetails(ctx)
		if err != nil {
			return err
		}
		for _, c := range children {
			if c.LeftOn == nil {
				view.Children = append(view.Children, ConsentChild{ID: c.ID, Name: c.FullName()})
			}
		}
		for _, p := range studio.Purposes() {
			i := slices.IndexFunc(texts, func(x studio.ConsentText) bool { return x.Purpose == p })
			if i < 0 {
				continue
			}
			answers, err := t.ConsentStands(ctx, p)
			if err != nil {
				return err
			}
			view.count(texts[i], answers)
		}
		return nil
	})
	return view, err
}

func (v *StudioConsents) count(text studio.ConsentText, answers []studio.ConsentAnswer) {
	byChild := map[uuid.UUID][]studio.ConsentAnswer{}
	for _, a := range answers {
		byChild[a.ChildID] = append(byChild[a.ChildID], a)
	}
	count := ConsentCount{ConsentText: text}
	for i := range v.Children {
		c := &v.Children[i]
		given := byChild[c.ID]
		yes := studio.Consented(given)
		if text.Purpose.Each() {
			yes = slices.ContainsFunc(given, func(a studio.ConsentAnswer) bool { return a.Given })
		}
		switch {
		case len(given) == 0:
			count.Open++
			c.Answers = append(c.Answers, "")
		case yes:
			count.Yes++
			c.Answers = append(c.Answers, "yes")
		default:
			count.No++
			c.Answers = append(c.Answers, "no")
		}
	}
	v.Counts = append(v.Counts, count)
}

// AskConsent gives a purpose other words: a new version, for which every family is asked again.
func (a *App) AskConsent(ctx context.Context, actor studio.Actor, p studio.Purpose, words string) error {
	words = strings.TrimSpace(words)
	return a.within(ctx, actor, studio.KeepConsents, func(t *postgres.Tx) error {
		if _, err := studio.PurposeOf(string(p)); err != nil {
			return err
		}
		if err := studio.CheckConsentWords(words); err != nil {
			return err
		}
		version, err := t.AddConsentText(ctx, p, words)
		if err != nil {
			return err
		}
		return t.Audit(ctx, "asked for consent in other words", "consent "+string(p), map[string]any{"version": version})
	})
}
