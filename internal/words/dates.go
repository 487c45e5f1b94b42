package words

import (
	"fmt"
	"time"

	"github.com/go-playground/locales"
	"github.com/go-playground/locales/de"
	"github.com/go-playground/locales/en_GB"
	"golang.org/x/text/language"
)

// datesOf is how a language writes dates and numbers, by the Unicode CLDR.
func datesOf(tag language.Tag) (locales.Translator, error) {
	switch base, _ := tag.Base(); base.String() {
	case "en":
		return en_GB.New(), nil
	case "de":
		return de.New(), nil
	}
	return nil, fmt.Errorf("no dates are known for the language")
}

// Number is a whole number: "1,200".
func (b *Book) Number(n int) string { return b.spoken().dates.FmtNumber(float64(n), 0) }

// Date is "2 January 2006". All dates and times are written in the zone that they come in.
func (b *Book) Date(t time.Time) string { return b.spoken().dates.FmtDateLong(t) }

// Day is "2 January".
func (b *Book) Day(t time.Time) string {
	return b.Say("date.day", "Day", t.Day(), "Month", b.spoken().dates.MonthWide(t.Month()))
}

// Weekday is "Monday 2 January".
func (b *Book) Weekday(t time.Time) string {
	return b.Say("date.weekday", "Weekday", b.spoken().dates.WeekdayWide(t.Weekday()), "Date", b.Day(t))
}

// WeekdayDate is "Monday 2 January 2006".
func (b *Book) WeekdayDate(t time.Time) string {
	return b.Say("date.weekday", "Weekday", b.spoken().dates.WeekdayWide(t.Weekday()), "Date", b.Date(t))
}

// Clock is "15:04".
func (b *Book) Clock(t time.Time) string { return b.spoken().dates.FmtTimeShort(t) }

// At is a day, written by another method, with a time of day: "2 January 2006, 15:04".
func (b *Book) At(day string, t time.Time) string {
	return b.Say("date.at", "Day", day, "Time", b.Clock(t))
}

// Span is a day with two times: "Monday 2 January, 15:04 to 16:04".
func (b *Book) Span(day string, from, to time.Time) string {
	return b.Say("date.span", "Day", day, "From", b.Clock(from), "To", b.Clock(to))
}
