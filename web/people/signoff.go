package people

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// SignOffs shows who may spot what until when.
func (h *Handler) SignOffs(w http.ResponseWriter, r *http.Request) error {
	b, err := h.app.SignOffs(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Sign-offs")
	page.Intro = "A sign-off says that somebody may spot a rung, and the drills that prepare it, until a day."
	page.Actions = kit.LinkButton(kit.Action{Label: "Sign somebody off", URL: "/studio/sign-offs/new", Icon: "plus"})
	return h.show(w, r, http.StatusOK, signOffsPage(page, newSignOffsView(b)))
}

type signOffsView struct {
	Ending []endingLine
	People []signOffPerson
}

type signOffPerson struct {
	Name, Count string
	Table       kit.TableView
}

func newSignOffsView(b app.SignOffBook) signOffsView {
	v := signOffsView{Ending: endingLines(b)}
	for _, s := range b.Staff {
		var own []studio.SignOff
		holds := 0
		for _, o := range b.SignOffs {
			if o.StaffID == s.ID {
				own = append(own, o)
				if o.HoldsOn(b.Day.Today) {
					holds++
				}
			}
		}
		if len(own) > 0 {
			v.People = append(v.People, signOffPerson{Name: s.Name, Count: kit.Count(holds, "sign-off holds", "sign-offs hold") + " today", Table: signOffTable(own, b.Day, true)})
		}
	}
	return v
}

// endingLine is what ends for one person on one day.
type endingLine struct {
	Who, When, Rungs, RenewURL string
	Expired                    bool
	until                      time.Time
	renew                      url.Values
}

// endingLines puts together what ends for the same person on the same day.
func endingLines(b app.SignOffBook) []endingLine {
	names, rungs := map[string]string{}, map[string]string{}
	for _, o := range b.SignOffs {
		names[o.StaffID.String()], rungs[o.RungKey] = o.StaffName, o.RungName
	}
	var lines []endingLine
	for _, e := range b.Ending {
		i := slices.IndexFunc(lines, func(l endingLine) bool { return l.renew.Get("staff") == e.Person && l.until.Equal(e.Until) })
		if i < 0 {
			lines, i = append(lines, endingLine{Who: names[e.Person], When: endWords(e.Until, e.DaysLeft), Expired: e.DaysLeft < 0, until: e.Until,
				renew: url.Values{"staff": {e.Person}}}), len(lines)
		}
		lines[i].renew.Add("rung", e.Rung)
	}
	for i := range lines {
		var words []string
		for _, key := range lines[i].renew["rung"] {
			words = append(words, rungs[key])
		}
		lines[i].Rungs, lines[i].RenewURL = joined(words, ""), "/studio/sign-offs/new?"+lines[i].renew.Encode()
	}
	return lines
}

// endWords says when a sign-off ended or ends.
func endWords(until time.Time, daysLeft int) string {
	switch {
	case daysLeft < 0:
		return "Expired " + inWords(until)
	case daysLeft == 0:
		return "Ends today"
	}
	return fmt.Sprintf("%s, in %s", inWords(until), kit.Count(daysLeft, "day", "days"))
}

// signOffTable lists sign-offs of one person; with revoke it has buttons to end them.
func signOffTable(list []studio.SignOff, day app.Day, revoke bool) kit.TableView {
	t := kit.TableView{Caption: "Sign-offs", HideCaption: true, Columns: []kit.Column{{Label: "Rung"}, {Label: "From"}, {Label: "Until"}}}
	if revoke {
		t.Columns = append(t.Columns, kit.Column{Label: ""})
	}
	for _, o := range list {
		row := kit.Row{Quiet: !o.HoldsOn(day.Today), Cells: []kit.Cell{kit.Text(o.RungName), kit.Text(inWords(o.GrantedOn)), kit.Text(signOffEnd(o, day))}}
		if revoke {
			row.Cells = append(row.Cells, kit.Part(revokeButton(o.ID.String(), o.StaffName+", "+o.RungName)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func signOffEnd(o studio.SignOff, day app.Day) string {
	switch {
	case o.RevokedAt != nil:
		return "Revoked " + moment(*o.RevokedAt, day)
	case o.ExpiresOn.Before(day.Today):
		return "Expired " + inWords(o.ExpiresOn)
	}
	return inWords(o.ExpiresOn)
}

// NewSignOffPage asks who is signed off for what until when.
func (h *Handler) NewSignOffPage(w http.ResponseWriter, r *http.Request) error {
	asked := r.URL.Query()
	f := form{Values: values("staff", asked.Get("staff"))}
	f.Values["rungs"] = asked["rung"]
	return h.newSignOffPage(w, r, f)
}

// ladderRungs are the rungs of a ladder to choose from. Open shows them at once.
type ladderRungs struct {
	Name  string
	Rungs kit.ChoiceField
	Open  bool
}

func (h *Handler) newSignOffPage(w http.ResponseWriter, r *http.Request, f form) error {
	b, err := h.app.SignOffs(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Sign somebody off", kit.Crumb{Label: "Sign-offs", URL: "/studio/sign-offs"})
	page.Intro = "Only for what you have watched them spot well. The rules of your insurer and governing body come first."
	if !f.Has("until") {
		f.Set("until", b.Day.Today.AddDate(1, 0, 0).Format(time.DateOnly))
	}
	var staff []kit.Choice
	for _, s := range b.Staff {
		label := s.Name
		if s.Trainee {
			label += " (trainee)"
		}
		staff = append(staff, kit.Choice{Value: s.ID.String(), Label: label, Disabled: s.Trainee})
	}
	return h.show(w, r, f.status(), newSignOffPage(page, staff, rungChoices(b.Ladders, f), f))
}

// rungChoices are the rungs that need a spotter, by ladder.
func rungChoices(ladders []studio.Ladder, f form) []ladderRungs {
	chosen := map[string]bool{}
	for _, key := range f.Values["rungs"] {
		chosen[key] = true
	}
	var list []ladderRungs
	for _, l := range ladders {
		group := ladderRungs{Name: l.Name, Rungs: kit.ChoiceField{ID: "rungs-" + l.Key, Name: "rungs", Label: l.Name, Values: f.Values["rungs"]}}
		for _, rung := range l.Rungs {
			if rung.Spotting.People == 0 {
				continue
			}
			group.Rungs.Choices = append(group.Rungs.Choices, kit.Choice{Value: rung.Key, Label: rung.Name, Hint: spotters(rung.Spotting)})
			group.Open = group.Open || chosen[rung.Key]
		}
		if n := len(group.Rungs.Choices); n > 0 {
			group.Name += ": " + kit.Count(n, "rung needs", "rungs need") + " a spotter"
			list = append(list, group)
		}
	}
	return list
}

func spotters(s studio.Spotting) string {
	manner := "standing by"
	if s.Manner == studio.HandsOn {
		manner = "hands on"
	}
	return kit.Count(s.People, "spotter", "spotters") + ", " + manner
}

// GrantSignOff signs somebody off.
func (h *Handler) GrantSignOff(w http.ResponseWriter, r *http.Request) error {
	var g app.SignOffGrant
	return h.submit(w, r, func(f *kit.Reader) {
		g = app.SignOffGrant{StaffID: chosen(f, "staff"), Rungs: f.Values["rungs"], Until: f.Date("until", true)}
		if g.StaffID == uuid.Nil {
			f.Refuse("staff", "Choose somebody.")
		}
	}, func() (done, error) {
		ids, err := h.app.GrantSignOff(r.Context(), kit.Actor(r), g)
		return done{"Signed off for " + kit.Count(len(ids), "rung", "rungs") + " until " + inWords(g.Until) + ".", "/studio/sign-offs"}, err
	}, func(f form) error { return h.newSignOffPage(w, r, f) })
}

// RevokeSignOff ends a sign-off at once.
func (h *Handler) RevokeSignOff(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "signoff")
	if err != nil {
		return err
	}
	return h.act(w, r, func(*kit.Reader) (done, error) {
		return done{"The sign-off is revoked. Plans that count on it say so now.", "/studio/sign-offs"}, h.app.RevokeSignOff(r.Context(), kit.Actor(r), id)
	})
}
