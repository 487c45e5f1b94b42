package people

import (
	"fmt"

	"rungbook/internal/app"
	"rungbook/web/kit"
)

// The sentences above the charts: the one thing to notice in each.

func staysNotice(o app.TermsOverview, all []app.StayLine) string {
	for i := len(all) - 1; i >= 0; i-- {
		l := all[i]
		if l.Next == "" || l.Children == 0 {
			continue
		}
		soFar := ""
		if !l.Begun {
			soFar = " so far"
		}
		text := fmt.Sprintf("%s: %d of %s have a place in %s%s.", l.Term, l.Stayed(), kit.Count(l.Children, "child", "children"), l.Next, soFar)
		return text + fewestStay(o.Stays, l)
	}
	return "There is no later term with children in it yet, so nobody can have stayed or gone."
}

// fewestStay names the class of a term that kept the smallest part of its children.
func fewestStay(lines []app.StayLine, whole app.StayLine) string {
	var least app.StayLine
	for _, l := range lines {
		if l.Term != whole.Term || l.Class == "" || l.Class == whole.Class || l.Children == 0 {
			continue
		}
		if least.Children == 0 || l.Stayed()*least.Children < least.Stayed()*l.Children {
			least = l
		}
	}
	if least.Children == 0 || least.Stayed() == least.Children {
		return ""
	}
	return fmt.Sprintf(" The smallest part stayed from %s: %d of %d.", least.Class, least.Stayed(), least.Children)
}

func progressNotice(o app.TermsOverview, all []app.ProgressLine) string {
	last := all[len(all)-1]
	text := fmt.Sprintf("%s: half of the children made %s or more secure%s", last.Term, kit.Count(last.Median, "rung", "rungs"), stillOn(o))
	if len(all) > 1 {
		text += fmt.Sprintf("; in the term before it was %d", all[len(all)-2].Median)
	}
	return text + fmt.Sprintf(". Due another look: %s of what was once secure.", percent(last.RecheckShare()))
}

// stillOn says that the newest term is not over.
func stillOn(o app.TermsOverview) string {
	if o.Terms[len(o.Terms)-1].EndsOn.Before(o.Day.Today) {
		return ""
	}
	return " so far"
}

func attendanceNotice(o app.TermsOverview, all []app.AttendanceLine) string {
	last := all[len(all)-1]
	if last.Noted == 0 {
		return "Nobody noted yet who came to the lessons of " + last.Term + "."
	}
	text := fmt.Sprintf("%s: %s of the children noted came to its %s.", last.Term, percent(last.Share()), kit.Count(last.Held, "lesson", "lessons"))
	least := last
	for _, l := range o.Attendance {
		if l.Term == last.Term && l.Class != "" && l.Noted > 0 && l.Share() < least.Share() {
			least = l
		}
	}
	if least.Class != last.Class {
		text += fmt.Sprintf(" The fewest came to %s: %s.", least.Class, percent(least.Share()))
	}
	if last.CalledOff > 0 {
		text += " " + kit.Capital(kit.Count(last.CalledOff, "lesson was", "lessons were")) + " called off."
	}
	return text
}

func gapsNotice(all []app.GapLine) string {
	last := all[len(all)-1]
	if last.Held == 0 {
		return "No lesson of " + last.Term + " was held yet."
	}
	if last.Few+last.Thin+last.Unsigned == 0 {
		return fmt.Sprintf("%s: in all %s the adults were enough, and for every rung that asks for it somebody was signed off.", last.Term, kit.Count(last.Held, "lesson", "lessons"))
	}
	var lacked []string
	for _, l := range []struct {
		n     int
		words string
	}{{last.Few, "had too few adults"}, {last.Thin, "left too few to watch once somebody spots"}, {last.Unsigned, "had too few people signed off for one of their rungs"}} {
		if l.n > 0 {
			lacked = append(lacked, fmt.Sprintf("%d %s", l.n, l.words))
		}
	}
	return fmt.Sprintf("%s: of %s, %s.", last.Term, kit.Count(last.Held, "lesson", "lessons"), kit.List(lacked))
}

func endingNotice(o app.TermsOverview) string {
	var most app.EndingLine
	rungs := 0
	for _, e := range o.Ending {
		rungs += e.Rungs
		if most.Rungs == 0 || e.AloneChildRungs > most.AloneChildRungs || e.AloneChildRungs == most.AloneChildRungs && e.ChildRungs > most.ChildRungs {
			most = e
		}
	}
	if rungs == 0 {
		return "No sign-off ends from today to the end of the next term."
	}
	text := fmt.Sprintf("%s end from today to the end of the next term. Look first at those of %s, until %s: they carry %s", kit.Count(rungs, "sign-off", "sign-offs"),
		most.Person, inWords(most.Until), kit.Count(most.ChildRungs, "child-rung", "child-rungs"))
	if most.Alone > 0 {
		text += fmt.Sprintf(", %d of them at rungs that nobody else is signed off for", most.AloneChildRungs)
	}
	return text + "."
}

func coverageNotice(o app.TermsOverview) string {
	newest := o.Terms[len(o.Terms)-1].Name
	rungs, taught, secured := 0, 0, 0
	for _, l := range o.Coverage {
		if l.Term == newest {
			rungs, taught, secured = rungs+l.Rungs, taught+l.Taught, secured+l.Secured
		}
	}
	return fmt.Sprintf("%s: its lessons met %d of %s; somebody newly made %d secure.", newest, taught, kit.Count(rungs, "rung", "rungs"), secured)
}

func unusedNotice(unused []app.UnusedRung) string {
	never, lack := 0, 0
	for _, u := range unused {
		if u.Never {
			never++
		}
		if u.NoFigure || u.NoDrill || u.NoFault {
			lack++
		}
	}
	return fmt.Sprintf("%s never used in any term; %s a figure, a drill or a fault.", kit.Capital(kit.Count(never, "rung was", "rungs were")), kit.Count(lack, "rung lacks", "rungs lack"))
}
