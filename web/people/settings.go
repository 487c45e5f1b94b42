package people

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// Settings shows what the studio sets for itself.
func (h *Handler) Settings(w http.ResponseWriter, r *http.Request) error {
	return h.settingsPage(w, r, form{Values: values()})
}

func (h *Handler) settingsPage(w http.ResponseWriter, r *http.Request, typed form) error {
	settings, err := h.app.StudioSettings(r.Context(), kit.Actor(r))
	if err != nil {
		return err
	}
	page := h.page(w, r, "Settings")
	page.Intro = "What holds for the whole studio. Each part is saved by itself, holds from the next page on, and is written to the trail."
	return h.show(w, r, typed.status(), settingsPage(page, settingsGroups(settings, typed), typed))
}

// SaveSettings saves one group of settings.
func (h *Handler) SaveSettings(w http.ResponseWriter, r *http.Request) error {
	var change func(*studio.Settings)
	group := ""
	return h.submit(w, r, func(f *kit.Reader) {
		group = f.Choice("group", groupIDs()...)
		change = readSettings(f, group)
	}, func() (done, error) {
		return done{"The settings are saved.", "/studio/settings#" + group}, h.app.ChangeSettings(r.Context(), kit.Actor(r), change)
	}, func(typed form) error { return h.settingsPage(w, r, typed) })
}

func groupIDs() []string {
	return []string{"secure", "memory", "caps", "stations", "marks", "home", "pacing", "cover", "retention", "sign-in", "language"}
}

// readSettings reads the fields of a group and gives what they change.
func readSettings(f *kit.Reader, group string) func(*studio.Settings) {
	switch group {
	case "secure":
		rule := studio.SecureRule{Clean: f.Whole("secure-clean", 1, 20), Window: f.Whole("secure-window", 1, 20), Lessons: f.Whole("secure-lessons", 1, 20)}
		return func(s *studio.Settings) { s.Secure = rule }
	case "memory":
		rule := studio.MemoryRule{First: float64(f.Whole("memory-first", 1, 365)), Growth: decimal(f, "memory-growth", 1, 10),
			Most: float64(f.Whole("memory-most", 1, 3650)), Gap: f.Whole("memory-gap", 1, 60), Recheck: float64(f.Whole("memory-recheck", 0, 99)) / 100}
		return func(s *studio.Settings) { s.Memory = rule }
	case "caps":
		var caps []studio.AgeCaps
		for _, b := range bands(f, "caps-age") {
			caps = append(caps, studio.AgeCaps{FromAge: b.age, Lesson: readLoad(f, "caps-lesson-"+b.no, 1000), Week: readLoad(f, "caps-week-"+b.no, 5000)})
		}
		return func(s *studio.Settings) { s.Caps = caps }
	case "stations":
		inRow, cues := f.Tick("hard-in-row"), f.Whole("cues", 1, 4)
		return func(s *studio.Settings) { s.HardInRow, s.Cues = inRow, cues }
	case "marks":
		confirm, floor := f.Tick("confirm"), decimal(f, "agreement", 0, 1)
		return func(s *studio.Settings) { s.Confirm, s.Agreement = confirm, floor }
	case "home":
		days, weeks := f.Whole("home-days", 1, 7), f.Whole("home-exception", 1, studio.MostExceptionWeeks)
		return func(s *studio.Settings) { s.HomeDays, s.Exception = days, weeks }
	case "sign-in":
		guarded := f.Tick("guarded")
		return func(s *studio.Settings) { s.Guarded = guarded }
	case "pacing":
		rule := readPacing(f)
		return func(s *studio.Settings) { s.Pacing = rule }
	case "language":
		tag := f.Text("language", 35, true)
		return func(s *studio.Settings) { s.Language = tag }
	case "retention":
		rule := readRetention(f)
		return func(s *studio.Settings) { s.Retention = rule }
	}
	rule := studio.CoverRule{Adults: f.Whole("cover-adults", 1, 20), Words: f.Text("cover-words", 400, false)}
	for _, b := range bands(f, "cover-age") {
		rule.Ratios = append(rule.Ratios, studio.Ratio{FromAge: b.age, Children: f.Whole("cover-children-"+b.no, 1, 100)})
	}
	return func(s *studio.Settings) { s.Cover = rule }
}

// decimal reads a number within bounds.
func decimal(f *kit.Reader, field string, least, most float64) float64 {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(f.Values.Get(field)), ",", ".", 1), 64)
	if err != nil || !(v >= least && v <= most) {
		f.Refuse(field, fmt.Sprintf("A number from %g to %g.", least, most))
	}
	return v
}

func readLoad(f *kit.Reader, field string, most int) studio.Load {
	return studio.Load{Back: f.Whole(field+"-back", 0, most), Wrists: f.Whole(field+"-wrists", 0, most), Landing: f.Whole(field+"-landing", 0, most)}
}

// mostBands bounds the age bands that a form may hold.
const mostBands = 12

// band is an age band of a form: its number there, and the age at which it starts.
type band struct {
	no  string
	age int
}

// bands reads the ages at which bands start. A band whose age is empty is left out; the first starts at 0 and each at a higher age.
func bands(f *kit.Reader, field string) []band {
	var list []band
	for i := range mostBands {
		no := strconv.Itoa(i)
		name := field + "-" + no
		if strings.TrimSpace(f.Values.Get(name)) == "" {
			continue
		}
		b := band{no, f.Whole(name, 0, 120)}
		switch {
		case len(list) == 0 && b.age != 0:
			f.Refuse(name, "The first age band starts at 0.")
		case len(list) > 0 && b.age <= list[len(list)-1].age:
			f.Refuse(name, "Each band starts at a higher age than the one before.")
		}
		list = append(list, b)
	}
	if len(list) == 0 {
		f.Refuse(field+"-0", "The first age band starts at 0.")
	}
	return list
}

// settingsValues are the settings as their form shows them.
func settingsValues(s studio.Settings) url.Values {
	v := url.Values{}
	whole := func(field string, n int) { v.Set(field, strconv.Itoa(n)) }
	real := func(field string, x float64) { v.Set(field, strconv.FormatFloat(x, 'f', -1, 64)) }
	whole("secure-clean", s.Secure.Clean)
	whole("secure-window", s.Secure.Window)
	whole("secure-lessons", s.Secure.Lessons)
	real("memory-first", s.Memory.First)
	real("memory-growth", s.Memory.Growth)
	real("memory-most", s.Memory.Most)
	whole("memory-gap", s.Memory.Gap)
	whole("memory-recheck", int(100*s.Memory.Recheck+0.5))
	for i, c := range s.Caps {
		no := strconv.Itoa(i)
		whole("caps-age-"+no, c.FromAge)
		for span, l := range map[string]studio.Load{"lesson": c.Lesson, "week": c.Week} {
			whole("caps-"+span+"-"+no+"-back", l.Back)
			whole("caps-"+span+"-"+no+"-wrists", l.Wrists)
			whole("caps-"+span+"-"+no+"-landing", l.Landing)
		}
	}
	v.Set("hard-in-row", tick(s.HardInRow))
	whole("cues", s.Cues)
	v.Set("language", s.Language)
	v.Set("confirm", tick(s.Confirm))
	real("agreement", s.Agreement)
	whole("home-days", s.HomeDays)
	whole("home-exception", s.Exception)
	whole("cover-adults", s.Cover.Adults)
	v.Set("cover-words", s.Cover.Words)
	setRetention(whole, s.Retention)
	setPacing(whole, s.Pacing)
	v.Set("guarded", tick(s.Guarded))
	for i, r := range s.Cover.Ratios {
		whole("cover-age-"+strconv.Itoa(i), r.FromAge)
		whole("cover-children-"+strconv.Itoa(i), r.Children)
	}
	return v
}
