package web_test

import (
	"slices"
	"strings"
)

// canary is a text that occurs in one sensitive field of the sample studio and nowhere else, with those who may meet it.
type canary struct {
	text string
	may  []who
}

var canaries = []canary{
	// Names: assistants know the children of tonight by first name; parents their own only.
	{"Aliquot", []who{owner, teacherA, helperNow, parentA}},
	{"Azimuth", []who{owner, teacherA, helperNow}},
	{"Bolide", []who{owner, teacherB, parentB}},
	{"Alderleak", []who{owner, teacherA, parentA}},
	{"Cedarleak", []who{owner, teacherA}},
	{"Birchleak", []who{owner, teacherB, parentB}},
	// Contacts and the roster's own numbers.
	{"contactleak-a1", []who{owner, teacherA, parentA}},
	{"contactleak-a2", []who{owner, teacherA}},
	{"contactleak-b1", []who{owner, teacherB, parentB}},
	{"refleak-", []who{owner}},
	// Birth dates, in the ways that people and machines write them.
	{"2015-05-17", []who{owner, teacherA, parentA}}, {"17 May 2015", []who{owner, teacherA, parentA}}, {"17/05/2015", []who{owner, teacherA, parentA}},
	{"2015-06-18", []who{owner, teacherA}}, {"18 June 2015", []who{owner, teacherA}}, {"18/06/2015", []who{owner, teacherA}},
	{"2015-07-19", []who{owner, teacherB, parentB}}, {"19 July 2015", []who{owner, teacherB, parentB}}, {"19/07/2015", []who{owner, teacherB, parentB}},
	// Care: the action goes to whoever works with the child, the reason never to assistants or parents.
	{"limitdo-a1", []who{owner, teacherA, helperNow, parentA}},
	{"limitdo-p1", []who{owner, teacherA, helperNow, parentA}},
	{"limitdo-b1", []who{owner, teacherB, parentB}},
	{"reasonleak-a1", []who{owner, teacherA}},
	{"reasonleak-b1", []who{owner, teacherB}},
	{"soreleak-a1", []who{owner, teacherA, parentA}},
	{"soreleak-b1", []who{owner, teacherB, parentB}},
	{"homewhy-a1", []who{owner, teacherA, parentA}},
	{"homewhy-b1", []who{owner, teacherB, parentB}},
	// Lessons: a note is the teacher's own.
	{"noteleak-a", []who{owner, teacherA}},
	{"noteleak-p", []who{owner, teacherA}},
	{"noteleak-b", []who{owner, teacherB}},
	// Staff and accounts.
	{"phoneleak-", []who{owner, teacherA, teacherB}},
	{"ownmail@", []who{owner}},
	{"teachmail-a@", []who{owner, teacherA}},
	{"teachmail-b@", []who{owner, teacherB}},
	{"helpmail-a@", []who{owner, helperNow}},
	{"helpmail-b@", []who{owner, helperLater}},
	{"parentmail-a@", []who{owner, parentA}},
	{"parentmail-b@", []who{owner, parentB}},
	{"parentmail-c@", []who{owner}},
	{"lockedmail@", []who{owner}},
	{"invitemail@", []who{owner}},
	{"trailleak", []who{owner}},
	// Secrets: nobody, ever.
	{"argon2id", nil},
	{"sample-session-", nil},
}

// sung lists the canaries in a text that the actor may not meet.
func sung(as who, text string) []string {
	var found []string
	for _, c := range canaries {
		if !slices.Contains(c.may, as) && strings.Contains(text, c.text) {
			found = append(found, c.text)
		}
	}
	return found
}
