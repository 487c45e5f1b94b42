package family

import (
	"net/url"
	"time"

	"github.com/google/uuid"
	"rungbook/internal/app"
	"rungbook/internal/words"
	"rungbook/web/kit"
)

// hurtForm is a report as it was typed.
type hurtForm struct {
	Place, HowMuch, Doing, Since string
	Signs                        []string
	Problems                     kit.Reader
}

func newHurtForm(b *words.Book, values url.Values) hurtForm {
	return hurtForm{Place: values.Get("place"), HowMuch: values.Get("how-much"), Doing: values.Get("doing"), Since: values.Get("since"), Signs: values["signs"],
		Problems: kit.Reader{Values: values, Words: b}}
}

func (f *hurtForm) report(child uuid.UUID) app.NewSoreness {
	r := &f.Problems
	return app.NewSoreness{Child: child, Place: r.Choice("place", app.SorenessPlaces()...), HowMuch: r.Whole("how-much", 0, 10),
		Doing: r.Text("doing", 400, false), Since: r.Date("since", true), Signs: f.Signs}
}

// urgent reports whether the answers call for help at once.
func (f hurtForm) urgent() bool { return app.Urgent(f.Place, f.Signs) }

// hurtModel is the page of a report.
type hurtModel struct {
	app.FamilyView
	hurtForm
}

func (m hurtModel) placeField(b *words.Book) kit.ChoiceField {
	f := kit.ChoiceField{Name: "place", Label: b.Say("hurt.where"), Values: []string{m.Place}, Empty: b.Say("hurt.choose"), Required: true, Error: m.Problems.Problem("place")}
	for _, p := range app.SorenessPlaces() {
		f.Choices = append(f.Choices, kit.Choice{Value: p, Label: app.PlaceWords(b, p)})
	}
	return f
}

// signsField asks for the signs that call for help at once.
func (m hurtModel) signsField(b *words.Book) kit.ChoiceField {
	return m.askedSigns(b, kit.ChoiceField{Label: b.Say("hurt.signs"), Hint: b.Say("hurt.signs-hint"), Error: m.Problems.Problem("signs")}, false)
}

// doctorField asks for the signs that a doctor should look at.
func (m hurtModel) doctorField(b *words.Book) kit.ChoiceField {
	return m.askedSigns(b, kit.ChoiceField{ID: "f-doctor-signs", Label: b.Say("hurt.doctor-signs")}, true)
}

func (m hurtModel) askedSigns(b *words.Book, f kit.ChoiceField, doctor bool) kit.ChoiceField {
	f.Name, f.Values = "signs", m.Signs
	for _, s := range app.SorenessSigns() {
		if s.Doctor == doctor {
			f.Choices = append(f.Choices, kit.Choice{Value: s.Key, Label: s.Words(b)})
		}
	}
	return f
}

// since is the day typed; today while nothing is.
func (m hurtModel) since() string {
	if m.Since == "" && m.Problems.Values == nil {
		return m.Today.Format(time.DateOnly)
	}
	return m.Since
}
