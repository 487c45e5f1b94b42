package people

import (
	"fmt"
	"strings"

	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// readPacing reads the rule of terms. A time of seeing again that is empty is left out.
func readPacing(f *kit.Reader) studio.PacingRule {
	rule := studio.PacingRule{New: f.Whole("pacing-new", 1, studio.MostPoints), Spotted: f.Whole("pacing-spotted", 0, studio.MostPoints),
		Again: f.Whole("pacing-again", 0, studio.MostPoints), Quiet: f.Whole("pacing-quiet", 0, studio.MostQuiet)}
	for i := range studio.MostAgain {
		field := fmt.Sprintf("pacing-after-%d", i)
		if strings.TrimSpace(f.Values.Get(field)) == "" {
			continue
		}
		weeks := f.Whole(field, 1, studio.LatestAgain)
		if n := len(rule.After); n > 0 && weeks <= rule.After[n-1] {
			f.Refuse(field, "Give more weeks than the time before.")
		}
		rule.After = append(rule.After, weeks)
	}
	return rule
}

func setPacing(whole func(field string, n int), rule studio.PacingRule) {
	whole("pacing-new", rule.New)
	whole("pacing-spotted", rule.Spotted)
	whole("pacing-again", rule.Again)
	whole("pacing-quiet", rule.Quiet)
	for i, weeks := range rule.After {
		whole(fmt.Sprintf("pacing-after-%d", i), weeks)
	}
}

func (m *groupMaker) pacingGroup() settingsGroup {
	var after []kit.Field
	for i, label := range []string{"Seen again after", "and after", "and after"} {
		f := m.optionalWhole(fmt.Sprintf("pacing-after-%d", i), label, "weeks", studio.LatestAgain)
		f.Min, f.Optional = "1", i > 0
		after = append(after, f)
	}
	return settingsGroup{Heading: "What fills the weeks of a term", Words: []string{
		"A term is laid out so that its heaviest week is as light as can be. New material counts in these points; back and wrists count what a turn loads, twice in the week in which a rung is new.",
		"A rung is seen again some weeks after it was new, and the last lessons before a showcase have nothing new. That practice is spread out helps (Shea and others 2000, for movements); the widths are common practice, no source. No published figure for the points."},
		Rows: []settingsRow{
			line(m.whole("pacing-new", "A new rung", "points", 1, studio.MostPoints), m.whole("pacing-spotted", "More where it is spotted", "points", 0, studio.MostPoints),
				m.whole("pacing-again", "Seen again", "points", 0, studio.MostPoints)),
			line(after...),
			line(m.whole("pacing-quiet", "Before a showcase nothing new in the last", "lessons", 0, studio.MostQuiet))}}
}
