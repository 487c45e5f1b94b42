package web_test

import "slices"

// What may be met in one answer though not elsewhere, for the pages of matrix_pages_test.go.

// these are canaries that everybody may meet on a page.
func these(texts ...string) func(who) []string {
	return func(who) []string { return texts }
}

// ofOwn are canaries of the sample that end in whose child they are about: a1 for parent A, b1 for parent B.
func ofOwn(as who, starts ...string) []string {
	end, ok := map[who]string{parentA: "a1", parentB: "b1"}[as]
	if !ok {
		return nil
	}
	texts := slices.Clone(starts)
	for i := range texts {
		texts[i] += end
	}
	return texts
}

// invited: whoever holds the link of an invitation reads whom it is for.
func invited(who) []string { return []string{"invitemail@", "Ines Vited"} }

// moving: whoever holds the links of a change of address reads which address it is to be, and was, and then whose account it is.
func moving(who) []string { return []string{"movedmail-06", "parentmail-a@", "Petra Alder"} }

// subscribed: whoever holds the link of the calendar of parent A reads the first name of child A.
func subscribed(who) []string { return []string{"Aliquot"} }

// copied: a guardian's copy of the child's data says why a care limit was set and what became of it, by law the child's own.
func copied(as who) []string { return ofOwn(as, "reasonleak-", "changeleak-") }

// colleaguesBirth: by row-level security teachers read the details of their colleagues, whose ages plans and sign-offs need; that only
// owners have a page with birth dates is the policy's.
var colleaguesBirth = []string{"1981-09-13", "13 September 1981", "13/09/1981"}
