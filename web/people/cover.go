package people

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/web/kit"
)

// Cover shows whether the rooms of the next days are covered, and what would help most.
func (h *Handler) Cover(w http.ResponseWriter, r *http.Request) error {
	b, err := h.app.Cover(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Cover")
	page.Intro = fmt.Sprintf("The lessons of the next %d days: adults in the room, who may spot, and what falls away.", b.Days)
	return h.show(w, r, http.StatusOK, coverPage(page, newCoverView(b)))
}

type coverView struct {
	Nights   []nightView
	Renewals []renewalView
	Ending   []endingLine
	Sole     []soleView
	Ratios   kit.TableView
	Least    string
	Laxer    string // the owner's words for a rule below the recommended one
	Settings bool   // the reader may change the rule
	Handling app.Handling
	Zones    kit.TableView
}

type nightView struct {
	Heading, URL string
	Reason       string
	Short        bool
	Spare        string
	People, Away string
	Open, Closed []app.CoverRung
	Absences     []string
}

type renewalView struct{ Who, What, Rungs, URL string }

type soleView struct{ Who, Rungs, Short string }

func newCoverView(b app.CoverBook) coverView {
	v := coverView{Settings: b.Owner, Handling: app.HandlingFigures(), Least: kit.Count(b.Rule.Adults, "adult", "adults")}
	for _, n := range b.Nights {
		v.Nights = append(v.Nights, newNightView(n))
	}
	for _, r := range b.Renewals {
		v.Renewals = append(v.Renewals, renewalView{Who: r.Person, Rungs: kit.List(r.Rungs), URL: renewURL(r.Staff, r.Keys),
			What: fmt.Sprintf("opens %s that %s ready for, %s in all.", kit.Count(len(r.Rungs), "rung", "rungs"),
				kit.Count(r.Kids, "child is", "children are"), kit.Count(r.Turns, "child and rung", "children and rungs"))})
	}
	for _, e := range b.Ending {
		v.Ending = append(v.Ending, endingLine{Who: e.Person, When: endWords(e.Until, e.DaysLeft), Rungs: kit.List(e.Rungs), Expired: e.DaysLeft < 0,
			RenewURL: renewURL(e.Staff, e.Keys)})
	}
	for _, s := range b.Sole {
		v.Sole = append(v.Sole, soleView{s.Person, kit.List(s.Rungs), kit.List(s.Short)})
	}
	v.Ratios = kit.TableView{Caption: "Children for each adult who is not spotting", Columns: []kit.Column{{Label: "Age"}, {Label: "Children", Numeric: true}}}
	for i, band := range b.Rule.Ratios {
		ages := fmt.Sprintf("%d and over", band.FromAge)
		if i+1 < len(b.Rule.Ratios) {
			ages = fmt.Sprintf("%d to %d", band.FromAge, b.Rule.Ratios[i+1].FromAge-1)
		}
		v.Ratios.Rows = append(v.Ratios.Rows, kit.Row{Cells: []kit.Cell{kit.Text(ages), kit.Text(strconv.Itoa(band.Children))}})
	}
	if b.Rule.Laxer() {
		v.Laxer = b.Rule.Words
	}
	v.Zones = zoneTable(v.Handling)
	return v
}

func newNightView(n app.CoverNight) nightView {
	v := nightView{Heading: n.Lesson.Class + ", " + n.Lesson.StartsAt.Format("Monday 2 January, 15:04"), URL: "/lessons/" + n.Lesson.ID.String(),
		Reason: n.Verdict.Reason, Short: !n.Verdict.Enough, Away: kit.List(n.Away), Open: n.Open, Closed: n.Closed, Absences: n.Absences}
	var people []string
	for _, p := range n.Here {
		people = append(people, p.Name+" ("+p.Counts+")")
	}
	v.People = kit.List(people)
	switch {
	case v.Short || n.Children == 0:
	case n.Spare == 0:
		v.Spare = "All of them are needed to watch: only somebody under 18 who is signed off may spot."
	default:
		v.Spare = kit.Count(n.Spare, "adult", "adults") + " more than that: so many may spot at the same time."
	}
	return v
}

// rungsFor reads "4 children".
func rungsFor(r app.CoverRung) string {
	return kit.Count(r.Children, "child is", "children are") + " ready"
}

func renewURL(staff uuid.UUID, rungs []string) string {
	return "/studio/sign-offs/new?" + url.Values{"staff": {staff.String()}, "rung": rungs}.Encode()
}

func zoneTable(h app.Handling) kit.TableView {
	t := kit.TableView{Caption: "Kilograms of an object, close to the body and at arm's length", Columns: []kit.Column{{Label: "Height"},
		{Label: "Men, close", Numeric: true}, {Label: "Men, far", Numeric: true}, {Label: "Women, close", Numeric: true}, {Label: "Women, far", Numeric: true}}}
	for _, z := range h.Zones {
		row := kit.Row{Cells: []kit.Cell{kit.Text(z.Height)}}
		for _, kilograms := range []float64{z.MenClose, z.MenFar, z.WomenClose, z.WomenFar} {
			row.Cells = append(row.Cells, kit.Text(strconv.FormatFloat(kilograms, 'f', -1, 64)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
