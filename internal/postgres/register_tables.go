package postgres

import "slices"

// Reasons for which a copy leaves a column out. The studio answers a request for more by its local law.
const (
	staffName = "It says who of the staff did it: ask the studio."
	inside    = "It only ties rows together and says nothing by itself."
	staffNote = "Notes of the staff among themselves: the studio reads them with you on request."
	others    = "It names other children or their families."
	secret    = "It is a secret of the program's."
	onStage   = "What is planned for a piece is the whole class's and changes until the day: ask the teacher."
)

const (
	lessonOf  = `select k.name || ', ' || to_char(l.starts_at at time zone k.time_zone, 'YYYY-MM-DD HH24:MI') from lesson l join class k on k.id = l.class_id where l.id = x.lesson_id`
	rungOf    = `select r.name from rung r where r.key = x.rung_key`
	drillOf   = `select d.name from drill d where d.key = x.drill_key`
	classOf   = `select k.name from class k where k.id = x.class_id`
	limitedBy = `x.care_limit_id in (select l.id from care_limit l where l.child_id = $1)`
	actorOf   = `(select nullif(current_setting('app.actor', true), '')::uuid)` // whose copy it is
	markedBy  = `x.mark_id in (select m.id from mark m where m.child_id = $1)`
)

func registers() []register {
	return slices.Concat(childRegisters(), lessonRegisters(), careRegisters(), familyRegisters(), otherRegisters())
}

func childRegisters() []register {
	return []register{
		{Name: "child", Title: "The child", Where: "x.id = $1", Columns: columns(given("given_name initial joined_on left_on"), withheld(inside, "id erased_at"))},
		{Name: "child_detail", Title: "Details", Where: "x.child_id = $1", Columns: columns(given("family_name birth_date contact roster_ref"), withheld(inside, "child_id"))},
		{Name: "enrolment", Title: "Classes", Where: "x.child_id = $1", Columns: columns(shown("class_id", "class", classOf), given("from_on until_on"), withheld(inside, "child_id"))},
		{Name: "class_pair", Title: "Whom to group with", Where: "$1 in (x.child_a, x.child_b)", Columns: withheld(others, "class_id child_a child_b wish")},
		{Name: "child_note", Title: "Teachers' notes", Where: "x.child_id = $1", Columns: withheld(staffNote, "id child_id note written_by written_at")},
	}
}

func lessonRegisters() []register {
	return []register{
		{Name: "attendance", Title: "Attendance", Where: "x.child_id = $1", Columns: columns(shown("lesson_id", "lesson", lessonOf), given("present noted_at"), withheld(inside, "child_id"), withheld(staffName, "noted_by"))},
		{Name: "mark", Title: "Marks", Where: "x.child_id = $1", Columns: columns(given("marked_at"), shown("rung_key", "rung", rungOf), given("side outcome"), shown("lesson_id", "lesson", lessonOf),
			given("received_at awaits id replaces"), withheld(inside, "child_id"), withheld(staffName, "marked_by"))},
		{Name: "mark_fault", Title: "Faults marked", Where: markedBy, Columns: columns(given("mark_id"), shown("rung_key", "rung", rungOf),
			shown("fault_key", "fault", `select f.name from fault f where (f.rung_key, f.key) = (x.rung_key, x.fault_key)`))},
		{Name: "mark_confirmation", Title: "Marks confirmed", Where: markedBy, Columns: columns(given("mark_id confirmed_at"), withheld(staffName, "confirmed_by"))},
		{Name: "child_effort", Title: "How hard lessons were", Where: "x.child_id = $1", Columns: columns(shown("lesson_id", "lesson", lessonOf), given("effort noted_at"), withheld(inside, "child_id"), withheld(staffName, "noted_by"))},
		{Name: "plan_member", Title: "Groups in plans", Where: "x.child_id = $1", Columns: withheld(others, "plan_id child_id group_no pinned")},
		{Name: "plan_entry", Title: "Turns in plans", Where: "x.child_id = $1", Columns: withheld("What was planned belongs to the plan of a whole class; what was done stands under marks.",
			"plan_id rotation child_id rung_key drill_key turns wait_share why pinned")},
		{Name: "plan_before", Title: "Plans before their last change", Where: "x.plan_id in (select p.plan_id from plan_member p where p.child_id = $1)", Columns: withheld(others, "plan_id parts")},
		{Name: "sheet_item", Title: "What devices sent", Where: "x.child_id = $1", Columns: withheld("It is the raw form of what stands under marks, attendance and notes.",
			"id digest receipt_id lesson_id child_id sent_by content answer words received_at")},
		{Name: "piece_part_child", Title: "Parts in pieces", Where: "x.child_id = $1", Columns: withheld(onStage, "part_id child_id")},
		{Name: "piece_swap", Title: "What the child shows in place of a rung", Where: "x.child_id = $1", Columns: withheld(onStage, "piece_id child_id rung_key instead_key accepted_by accepted_at")},
		{Name: "forecast_kept", Title: "Forecasts made", Where: "x.child_id = $1", Columns: withheld("They are chances worked out from the marks above, kept to judge the method and not the child.",
			"class_id child_id made_for made_on due_on rule_clean rule_window rule_lessons rungs chances")},
		{Name: "sheet_note", Title: "Notes from the hall", Where: "x.child_id = $1", Columns: withheld(staffNote, "id lesson_id child_id note written_by written_at")},
	}
}

func careRegisters() []register {
	return []register{
		{Name: "care_limit", Title: "Care limits", Where: "x.child_id = $1", Columns: columns(given("action from_on until_on review_on avoid_back avoid_wrists avoid_landing avoid_inverted set_at cleared_at id"),
			withheld(inside, "child_id"), withheld(staffName, "set_by cleared_by"))},
		{Name: "care_limit_reason", Title: "Why care limits were set", Where: limitedBy, Columns: given("care_limit_id reason")},
		{Name: "care_change", Title: "What became of care limits", Where: "x.child_id = $1", Columns: columns(given("at care_limit_id what until_on review_on note"), withheld(inside, "id child_id"), withheld(staffName, "by_account"))},
		{Name: "soreness", Title: "Reports that something hurt", Where: "x.child_id = $1", Columns: columns(given("reported_at place how_much doing signs began_on care_limit_id"), withheld(inside, "id child_id reported_by"))},
		{Name: "incident", Title: "Incident records", Where: "x.child_id = $1", Columns: withheld("A record may name other children, and is kept for the case of a claim: the studio gives you a copy on request.",
			"id lesson_id child_id happened_at what done told seen_by written_by written_at keep_until")},
		{Name: "incident_addition", Title: "Additions to incident records", Where: "x.incident_id in (select i.id from incident i where i.child_id = $1)",
			Columns: withheld("As the record itself.", "id incident_id words written_by written_at")},
		{Name: "incident_person", Title: "Whom incident records are about", Where: "x.incident_id in (select i.id from incident i where i.child_id = $1)",
			Columns: withheld("There is a row only once the child is erased.", "incident_id name birth_date")},
		{Name: "health_read", Title: "Who read health data", Where: "x.child_id = $1", Columns: columns(given("at by_name kind"), withheld(inside, "id child_id by_account"))},
	}
}

func familyRegisters() []register {
	own := "x.account_id = " + actorOf + " and $1 in (select g.child_id from guardian g where g.account_id = x.account_id)"
	return []register{
		{Name: "account", Title: "Your account", Where: "x.id = " + actorOf + " and $1 in (select g.child_id from guardian g where g.account_id = x.id)", Columns: columns(given("name email language joined_at created_at"), withheld(inside, "id disabled_at"))},
		{Name: "guardian", Title: "You as guardian", Where: "x.child_id = $1 and x.account_id = " + actorOf,
			Columns: columns(given("relation called rights since removed_at"), withheld(inside, "account_id child_id invited_by"))},
		{Name: "home_assignment", Title: "Drills at home", Where: "x.child_id = $1", Columns: columns(shown("drill_key", "drill", drillOf), given("from_on until_on sets repeats hold_seconds why assigned_at withdrawn_at"),
			withheld(inside, "id child_id home_safe exception_id"), withheld(staffName, "assigned_by"))},
		{Name: "home_exception", Title: "Exceptions for home", Where: "x.child_id = $1", Columns: columns(shown("drill_key", "drill", drillOf), given("reason signed ticked_at ticked_on until_on ended_how ended_at"),
			withheld(inside, "id child_id spotters"), withheld(staffName, "ticked_by ended_by"))},
		{Name: "practice", Title: "Practice at home", Where: "x.child_id = $1", Columns: columns(given("done_on noted_at"),
			shown("assignment_id", "drill", `select d.name from home_assignment h join drill d on d.key = h.drill_key where h.id = x.assignment_id`), withheld(inside, "child_id noted_by"))},
		{Name: "message", Title: "Messages about the child", Where: "x.child_id = $1 and x.taken_back_at is null", Columns: columns(given("written_at signed note taken_back_at written_on"), withheld(inside, "id child_id class_id"), withheld(staffName, "written_by"))},
		{Name: "message_read", Title: "Messages you opened", Where: own, Columns: columns(given("read_at message_id"), withheld(inside, "account_id"))},
		{Name: "report_release", Title: "Released term reports", Where: "x.child_id = $1", Columns: columns(shown("class_id", "class", classOf), given("released_at as_of"), withheld(inside, "child_id"), withheld(staffName, "released_by"),
			withheld("It is a file: open it on your child's page.", "body"))},
		{Name: "report_note", Title: "Notes for term reports", Where: "x.child_id = $1", Columns: withheld("It stands in the term report, once that is released.", "class_id child_id note written_by written_at")},
		{Name: "calendar_feed", Title: "Your calendar link", Where: own, Columns: columns(given("made_at read_at"), withheld(inside, "account_id"), withheld(secret, "token_hash"))},
		{Name: "consent_answer", Title: "Consents", Where: "x.child_id = $1", Columns: columns(given("answered_at purpose version given"), withheld(inside, "id child_id account_id nth"))},
		{Name: "erasure_request", Title: "Requests to erase", Where: "x.child_id = $1", Columns: columns(given("asked_at words decided_at erased answer"), withheld(inside, "id child_id asked_by decided_by"))},
	}
}

// otherRegisters are tables that are not about a child.
func otherRegisters() []register {
	var all []register
	for none, names := range map[string][]string{
		"It is the skill library, which says nothing about anybody.": {"cause", "cause_drill", "drill", "drill_equipment", "drill_rung", "equipment", "fault", "ladder", "rung", "rung_equipment",
			"rung_fit", "rung_need"},
		"It is about the studio, its terms and classes.": {"class", "consent_text", "holiday", "lesson", "lesson_block", "lesson_clock", "lesson_effort", "pacing", "pacing_before", "pacing_rung", "piece", "piece_part", "piece_part_rung", "plan",
			"plan_cell", "retention_run", "studio_settings", "term"},
		"It is about the staff.": {"class_staff", "plan_staff", "sign_off", "sign_off_request", "staff", "staff_attendance", "staff_detail", "sheet_receipt", "sheet_verdict"},
		"It is about a whole lesson; words in it that name a child are the studio's to find.":                   {"lesson_note"},
		"It is about an account, whoever's it is: its holder finds it under Account.":                           {"account_browser", "account_note", "account_role", "account_secret", "email_change", "passkey", "recovery_code", "second_factor", "session", "sign_in_attempt"},
		"It is a link on its way to somebody who is to join, or to choose a new passphrase.":                    {"invitation"},
		"It is a file of term reports that an owner asked for, and goes when it expires.":                       {"report_bundle", "report_bundle_file", "report_bundle_part"},
		"It is the trail: it tells of a child by number, and who read health data stands in a part of its own.": {"audit", "audit_link"},
	} {
		for _, name := range names {
			all = append(all, register{Name: name, None: none})
		}
	}
	return all
}
