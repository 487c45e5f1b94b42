package web

import (
	"slices"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/account"
	"rungbook/web/family"
	"rungbook/web/kit"
	"rungbook/web/lesson"
	"rungbook/web/library"
	"rungbook/web/pacing"
	"rungbook/web/people"
	"rungbook/web/reports"
	"rungbook/web/sheet"
	"rungbook/web/standing"
	"rungbook/web/today"
)

// Routes is the route table: every page with its action. The policy table of internal/app says who may.
func Routes(a *app.App, k *kit.Kit) []kit.Route {
	return slices.Concat(
		spoken(accountRoutes(account.New(a, k))),
		todayRoutes(today.New(a, k)),
		libraryRoutes(library.New(a, k)),
		standingRoutes(standing.New(a, k)),
		pacingRoutes(pacing.New(a, k)),
		spoken(familyRoutes(family.New(a, k))),
		lessonRoutes(lesson.New(a, k)),
		sheetRoutes(sheet.New(a, k)),
		reportRoutes(reports.New(a, k)),
		studioRoutes(people.New(a, k)),
	)
}

// spoken marks routes whose pages are in the language of whoever reads them.
func spoken(routes []kit.Route) []kit.Route {
	for i := range routes {
		routes[i].Spoken = true
	}
	return routes
}

func accountRoutes(h *account.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/sign-in", Action: studio.SignIn, Handler: h.SignInPage},
		{Method: "POST", Pattern: "/sign-in", Action: studio.SignIn, Handler: h.SignIn},
		{Method: "POST", Pattern: "/sign-out", Action: studio.GuardAccount, Handler: h.SignOut},
		{Method: "GET", Pattern: "/sign-in/code", Action: studio.SignIn, Handler: h.CodePage},
		{Method: "POST", Pattern: "/sign-in/code", Action: studio.SignIn, Handler: h.EnterCode},
		{Method: "POST", Pattern: "/sign-in/passkey/begin", Action: studio.SignIn, Handler: h.BeginPasskeySignIn, JSON: true},
		{Method: "POST", Pattern: "/sign-in/passkey", Action: studio.SignIn, Handler: h.PasskeySignIn},
		{Method: "GET", Pattern: "/forgotten", Action: studio.SignIn, Handler: h.ForgottenPage},
		{Method: "POST", Pattern: "/forgotten", Action: studio.SignIn, Handler: h.Forgotten},
		{Method: "GET", Pattern: "/account", Action: studio.OwnAccount, Handler: h.Account},
		{Method: "POST", Pattern: "/account/passphrase", Action: studio.OwnAccount, Handler: h.ChangePassphrase},
		{Method: "POST", Pattern: "/account/language", Action: studio.OwnAccount, Handler: h.ChooseLanguage},
		{Method: "POST", Pattern: "/account/email", Action: studio.OwnAccount, Handler: h.ChangeEmail},
		{Method: "POST", Pattern: "/account/sessions/end-others", Action: studio.OwnAccount, Handler: h.EndOtherSessions},
		{Method: "POST", Pattern: "/account/sessions/{session}/end", Action: studio.OwnAccount, Handler: h.EndSession},
		{Method: "POST", Pattern: "/account/passkeys/begin", Action: studio.GuardAccount, Handler: h.BeginPasskey, JSON: true},
		{Method: "POST", Pattern: "/account/passkeys", Action: studio.GuardAccount, Handler: h.AddPasskey},
		{Method: "POST", Pattern: "/account/passkeys/{passkey}/name", Action: studio.OwnAccount, Handler: h.RenamePasskey},
		{Method: "POST", Pattern: "/account/passkeys/{passkey}/remove", Action: studio.OwnAccount, Handler: h.RemovePasskey},
		{Method: "GET", Pattern: "/account/guard", Action: studio.GuardAccount, Handler: h.Guard},
		{Method: "GET", Pattern: "/account/codes", Action: studio.GuardAccount, Handler: h.Codes},
		{Method: "POST", Pattern: "/account/codes", Action: studio.GuardAccount, Handler: h.BeginCodes},
		{Method: "POST", Pattern: "/account/codes/confirm", Action: studio.GuardAccount, Handler: h.ConfirmCodes},
		{Method: "POST", Pattern: "/account/codes/end", Action: studio.OwnAccount, Handler: h.EndCodes},
		{Method: "GET", Pattern: "/account/children/{child}", Action: studio.KeepGuardians, Handler: h.Guardians},
		{Method: "POST", Pattern: "/account/children/{child}", Action: studio.KeepGuardians, Handler: h.InviteGuardian},
		{Method: "POST", Pattern: "/account/children/{child}/guardians/{guardian}/rights", Action: studio.KeepGuardians, Handler: h.ChangeGuardian},
		{Method: "POST", Pattern: "/account/children/{child}/guardians/{guardian}/remove", Action: studio.KeepGuardians, Handler: h.EndGuardian},
		{Method: "POST", Pattern: "/account/children/{child}/links/{link}/withdraw", Action: studio.KeepGuardians, Handler: h.WithdrawGuardian},
		{Method: "GET", Pattern: "/join/{token}", Action: studio.Join, Handler: h.JoinPage},
		{Method: "POST", Pattern: "/join/{token}", Action: studio.Join, Handler: h.Join},
		{Method: "GET", Pattern: "/address/confirm/{change}", Action: studio.Join, Handler: h.ConfirmEmailPage},
		{Method: "POST", Pattern: "/address/confirm/{change}", Action: studio.Join, Handler: h.ConfirmEmail},
		{Method: "GET", Pattern: "/address/stop/{stop}", Action: studio.Join, Handler: h.StopEmailPage},
		{Method: "POST", Pattern: "/address/stop/{stop}", Action: studio.Join, Handler: h.StopEmail},
	}
}

func todayRoutes(h *today.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/", Action: studio.SeeToday, Handler: h.Today},
	}
}

func libraryRoutes(h *library.Handler) []kit.Route {
	const read, edit = studio.ReadLibrary, studio.EditLibrary
	return []kit.Route{
		{Method: "GET", Pattern: "/ladders", Action: read, Handler: h.Ladders},
		{Method: "GET", Pattern: "/ladders/export", Action: read, Handler: h.Export},
		{Method: "GET", Pattern: "/ladders/import", Action: edit, Handler: h.ImportPage},
		{Method: "POST", Pattern: "/ladders/import", Action: edit, Handler: h.Import},
		{Method: "GET", Pattern: "/ladders/arrange", Action: edit, Handler: h.ArrangePage},
		{Method: "POST", Pattern: "/ladders/arrange", Action: edit, Handler: h.Arrange},
		{Method: "GET", Pattern: "/ladders/add", Action: edit, Handler: h.AddLadderPage},
		{Method: "POST", Pattern: "/ladders/add", Action: edit, Handler: h.AddLadder},
		{Method: "GET", Pattern: "/ladders/{ladder}", Action: read, Handler: h.Ladder},
		{Method: "GET", Pattern: "/ladders/{ladder}/edit", Action: edit, Handler: h.EditLadderPage},
		{Method: "POST", Pattern: "/ladders/{ladder}/edit", Action: edit, Handler: h.EditLadder},
		{Method: "POST", Pattern: "/ladders/{ladder}/remove", Action: edit, Handler: h.RemoveLadder},
		{Method: "GET", Pattern: "/ladders/{ladder}/arrange", Action: edit, Handler: h.ArrangeRungsPage},
		{Method: "POST", Pattern: "/ladders/{ladder}/arrange", Action: edit, Handler: h.ArrangeRungs},
		{Method: "GET", Pattern: "/ladders/{ladder}/add-rung", Action: edit, Handler: h.AddRungPage},
		{Method: "POST", Pattern: "/ladders/{ladder}/add-rung", Action: edit, Handler: h.AddRung},
		{Method: "GET", Pattern: "/rungs/{rung}", Action: read, Handler: h.Rung},
		{Method: "GET", Pattern: "/rungs/{rung}/edit", Action: edit, Handler: h.EditRungPage},
		{Method: "POST", Pattern: "/rungs/{rung}/edit", Action: edit, Handler: h.EditRung},
		{Method: "GET", Pattern: "/rungs/{rung}/move", Action: edit, Handler: h.MovePage},
		{Method: "POST", Pattern: "/rungs/{rung}/move", Action: edit, Handler: h.Move},
		{Method: "POST", Pattern: "/rungs/{rung}/remove", Action: edit, Handler: h.RemoveRung},
		{Method: "GET", Pattern: "/rungs/{rung}/add-fault", Action: edit, Handler: h.AddFaultPage},
		{Method: "POST", Pattern: "/rungs/{rung}/add-fault", Action: edit, Handler: h.AddFault},
		{Method: "GET", Pattern: "/rungs/{rung}/faults/{fault}", Action: edit, Handler: h.EditFaultPage},
		{Method: "POST", Pattern: "/rungs/{rung}/faults/{fault}", Action: edit, Handler: h.EditFault},
		{Method: "POST", Pattern: "/rungs/{rung}/faults/{fault}/remove", Action: edit, Handler: h.RemoveFault},
		{Method: "GET", Pattern: "/drills", Action: read, Handler: h.Drills},
		{Method: "GET", Pattern: "/drills/add", Action: edit, Handler: h.AddDrillPage},
		{Method: "POST", Pattern: "/drills/add", Action: edit, Handler: h.AddDrill},
		{Method: "GET", Pattern: "/drills/{drill}", Action: read, Handler: h.Drill},
		{Method: "GET", Pattern: "/drills/{drill}/edit", Action: edit, Handler: h.EditDrillPage},
		{Method: "POST", Pattern: "/drills/{drill}/edit", Action: edit, Handler: h.EditDrill},
		{Method: "POST", Pattern: "/drills/{drill}/remove", Action: edit, Handler: h.RemoveDrill},
	}
}

func reportRoutes(h *reports.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/reports", Action: studio.SeeReports, Handler: h.Reports},
		{Method: "GET", Pattern: "/reports/{class}", Action: studio.SeeReports, Handler: h.Class},
		{Method: "POST", Pattern: "/reports/{class}/term-report.pdf", Action: studio.ExportReport, Handler: h.PDF},
		{Method: "POST", Pattern: "/reports/{class}/term-report.csv", Action: studio.ExportReport, Handler: h.CSV},
		{Method: "POST", Pattern: "/reports/{class}/term-report.xlsx", Action: studio.ExportReport, Handler: h.XLSX},
		{Method: "POST", Pattern: "/reports/{class}/{child}.pdf", Action: studio.ExportReport, Handler: h.ChildPDF},
		{Method: "POST", Pattern: "/reports/{class}/release", Action: studio.ReleaseReport, Handler: h.Release},
		{Method: "POST", Pattern: "/reports/{class}/{child}/take-back", Action: studio.ReleaseReport, Handler: h.TakeBack},
		{Method: "GET", Pattern: "/reports/{class}/notes", Action: studio.WriteReport, Handler: h.Notes},
		{Method: "POST", Pattern: "/reports/{class}/{child}/note", Action: studio.WriteReport, Handler: h.WriteNote},
		{Method: "GET", Pattern: "/reports/all", Action: studio.BundleReports, Handler: h.Bundles},
		{Method: "POST", Pattern: "/reports/all", Action: studio.BundleReports, Handler: h.AskBundle},
		{Method: "GET", Pattern: "/reports/all/{bundle}", Action: studio.BundleReports, Handler: h.Bundle},
		{Method: "POST", Pattern: "/reports/all/{bundle}/stop", Action: studio.BundleReports, Handler: h.StopBundle},
		{Method: "POST", Pattern: "/reports/all/{bundle}/term-reports.zip", Action: studio.BundleReports, Handler: h.SaveBundle},
	}
}

func lessonRoutes(h *lesson.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/lessons/{lesson}", Action: studio.SeeLesson, Handler: h.Lesson},
		{Method: "GET", Pattern: "/lessons/{lesson}/print", Action: studio.SeeLesson, Handler: h.Print},
		{Method: "GET", Pattern: "/lessons/{lesson}/compare", Action: studio.SeeLesson, Handler: h.Compare},
		{Method: "GET", Pattern: "/lessons/{lesson}/plan.svg", Action: studio.SeeLesson, Handler: h.Picture},
		{Method: "POST", Pattern: "/lessons/{lesson}/present", Action: studio.KeepLesson, Handler: h.NotePresent},
		{Method: "POST", Pattern: "/lessons/{lesson}/effort", Action: studio.KeepLesson, Handler: h.NoteEffort},
		{Method: "POST", Pattern: "/lessons/{lesson}/note", Action: studio.KeepLesson, Handler: h.Note},
		{Method: "GET", Pattern: "/lessons/{lesson}/blocks", Action: studio.KeepLesson, Handler: h.Blocks},
		{Method: "POST", Pattern: "/lessons/{lesson}/blocks", Action: studio.KeepLesson, Handler: h.KeepBlocks},
		{Method: "GET", Pattern: "/lessons/{lesson}/pairs", Action: studio.KeepLesson, Handler: h.Pairs},
		{Method: "POST", Pattern: "/lessons/{lesson}/pairs", Action: studio.KeepLesson, Handler: h.KeepPair},
		{Method: "POST", Pattern: "/lessons/{lesson}/pairs/remove", Action: studio.KeepLesson, Handler: h.RemovePair},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan", Action: studio.PlanLesson, Handler: h.Propose},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/refine", Action: studio.PlanLesson, Handler: h.Refine},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/copy", Action: studio.PlanLesson, Handler: h.Copy},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/undo", Action: studio.PlanLesson, Handler: h.Undo},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/share", Action: studio.PlanLesson, Handler: h.Share},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/group", Action: studio.PlanLesson, Handler: h.Move},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/activity", Action: studio.PlanLesson, Handler: h.SetActivity},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/station", Action: studio.PlanLesson, Handler: h.SetStation},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/staff", Action: studio.PlanLesson, Handler: h.SetStaff},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/pin-cell", Action: studio.PlanLesson, Handler: h.PinCell},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/pin-child", Action: studio.PlanLesson, Handler: h.PinChild},
		{Method: "POST", Pattern: "/lessons/{lesson}/call-off", Action: studio.KeepLesson, Handler: h.CallOff},
		{Method: "POST", Pattern: "/lessons/{lesson}/put-back", Action: studio.KeepLesson, Handler: h.PutBack},
		{Method: "GET", Pattern: "/tonight/{lesson}", Action: studio.SeeStations, Handler: h.Tonight},
	}
}

func sheetRoutes(h *sheet.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/lessons/{lesson}/sheet", Action: studio.RunSheet, Handler: h.Sheet},
		{Method: "GET", Pattern: "/lessons/{lesson}/sheet.json", Action: studio.RunSheet, Handler: h.State, JSON: true},
		{Method: "POST", Pattern: "/lessons/{lesson}/sheet/item", Action: studio.RunSheet, Handler: h.Item},
		{Method: "POST", Pattern: "/lessons/{lesson}/sheet/clock", Action: studio.RunSheet, Handler: h.Clock},
		{Method: "POST", Pattern: "/sheet/items", Action: studio.SendMarks, Handler: h.Items, JSON: true},
		{Method: "GET", Pattern: "/lessons/{lesson}/stop", Action: studio.RunSheet, Handler: h.Stop},
		{Method: "POST", Pattern: "/lessons/{lesson}/stop", Action: studio.KeepIncident, Handler: h.KeepIncident},
		{Method: "GET", Pattern: "/lessons/{lesson}/review", Action: studio.KeepLesson, Handler: h.Review},
		{Method: "POST", Pattern: "/lessons/{lesson}/review/confirm", Action: studio.KeepLesson, Handler: h.Confirm},
		{Method: "POST", Pattern: "/lessons/{lesson}/review/item", Action: studio.KeepLesson, Handler: h.Decide},
		{Method: "POST", Pattern: "/lessons/{lesson}/review/home", Action: studio.KeepLesson, Handler: h.SendHome},
		{Method: "GET", Pattern: "/incidents/{incident}", Action: studio.KeepIncident, Handler: h.Incident},
		{Method: "POST", Pattern: "/incidents/{incident}/add", Action: studio.KeepIncident, Handler: h.AddToIncident},
		{Method: "GET", Pattern: "/studio/incidents", Action: studio.SeeStudio, Handler: h.Incidents},
		{Method: "GET", Pattern: "/sign-off-requests", Action: studio.AskSignOff, Handler: h.Requests},
		{Method: "POST", Pattern: "/sign-off-requests", Action: studio.AskSignOff, Handler: h.Ask},
		{Method: "POST", Pattern: "/sign-off-requests/{request}/grant", Action: studio.KeepSignOffs, Handler: h.Grant},
		{Method: "POST", Pattern: "/sign-off-requests/{request}/decline", Action: studio.KeepSignOffs, Handler: h.Decline},
	}
}

func pacingRoutes(h *pacing.Handler) []kit.Route {
	const see, keep = studio.SeeClass, studio.KeepPacing
	return []kit.Route{
		{Method: "GET", Pattern: "/classes/{class}/term", Action: see, Handler: h.Term},
		{Method: "GET", Pattern: "/classes/{class}/term/print", Action: see, Handler: h.Print},
		{Method: "GET", Pattern: "/classes/{class}/term/forecast", Action: see, Handler: h.Forecast},
		{Method: "GET", Pattern: "/classes/{class}/term/rungs", Action: keep, Handler: h.RungsPage},
		{Method: "POST", Pattern: "/classes/{class}/term/rungs", Action: keep, Handler: h.Choose},
		{Method: "POST", Pattern: "/classes/{class}/term/propose", Action: keep, Handler: h.Propose},
		{Method: "POST", Pattern: "/classes/{class}/term/move", Action: keep, Handler: h.Move},
		{Method: "POST", Pattern: "/classes/{class}/term/rung", Action: keep, Handler: h.Set},
		{Method: "POST", Pattern: "/classes/{class}/term/undo", Action: keep, Handler: h.Undo},
		{Method: "GET", Pattern: "/classes/{class}/showcase", Action: see, Handler: h.Showcase},
		{Method: "GET", Pattern: "/classes/{class}/showcase/new", Action: keep, Handler: h.NewPiece},
		{Method: "POST", Pattern: "/classes/{class}/showcase/new", Action: keep, Handler: h.AddPiece},
		{Method: "GET", Pattern: "/classes/{class}/showcase/{piece}", Action: see, Handler: h.Piece},
		{Method: "GET", Pattern: "/classes/{class}/showcase/{piece}/print", Action: see, Handler: h.PiecePrint},
		{Method: "GET", Pattern: "/classes/{class}/showcase/{piece}/edit", Action: keep, Handler: h.EditPiece},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/edit", Action: keep, Handler: h.SavePiece},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/remove", Action: keep, Handler: h.RemovePiece},
		{Method: "GET", Pattern: "/classes/{class}/showcase/{piece}/parts/new", Action: keep, Handler: h.NewPart},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/parts/new", Action: keep, Handler: h.AddPart},
		{Method: "GET", Pattern: "/classes/{class}/showcase/{piece}/parts/{part}", Action: keep, Handler: h.PartPage},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/parts/{part}", Action: keep, Handler: h.SavePart},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/parts/{part}/remove", Action: keep, Handler: h.RemovePart},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/swap", Action: keep, Handler: h.AcceptSwap},
		{Method: "POST", Pattern: "/classes/{class}/showcase/{piece}/undo", Action: keep, Handler: h.UndoSwap},
	}
}

func standingRoutes(h *standing.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/classes", Action: studio.SeeClass, Handler: h.Classes},
		{Method: "GET", Pattern: "/classes/{class}", Action: studio.SeeClass, Handler: h.Class},
		{Method: "GET", Pattern: "/classes/{class}/marks", Action: studio.MarkChild, Handler: h.ClassMarks},
		{Method: "POST", Pattern: "/classes/{class}/marks", Action: studio.MarkChild, Handler: h.MarkClass},
		{Method: "GET", Pattern: "/classes/{class}/home", Action: studio.AssignHome, Handler: h.ClassHome},
		{Method: "POST", Pattern: "/classes/{class}/home", Action: studio.AssignHome, Handler: h.SendClass},
		{Method: "GET", Pattern: "/children", Action: studio.SeeChild, Handler: h.Children},
		{Method: "GET", Pattern: "/children/{child}", Action: studio.SeeChild, Handler: h.Child},
		{Method: "GET", Pattern: "/children/{child}/ahead", Action: studio.SeeChild, Handler: h.Ahead},
		{Method: "GET", Pattern: "/children/{child}/notes", Action: studio.KeepNotes, Handler: h.Notes},
		{Method: "POST", Pattern: "/children/{child}/notes", Action: studio.KeepNotes, Handler: h.WriteNote},
		{Method: "GET", Pattern: "/children/{child}/messages", Action: studio.WriteFamilies, Handler: h.ChildMessages},
		{Method: "POST", Pattern: "/children/{child}/messages", Action: studio.WriteFamilies, Handler: h.WriteChild},
		{Method: "POST", Pattern: "/children/{child}/messages/{message}/take-back", Action: studio.WriteFamilies, Handler: h.TakeBackFromChild},
		{Method: "GET", Pattern: "/classes/{class}/messages", Action: studio.WriteFamilies, Handler: h.ClassMessages},
		{Method: "POST", Pattern: "/classes/{class}/messages", Action: studio.WriteFamilies, Handler: h.WriteClass},
		{Method: "POST", Pattern: "/classes/{class}/messages/{note}/take-back", Action: studio.WriteFamilies, Handler: h.TakeBackFromClass},
		{Method: "GET", Pattern: "/children/{child}/history", Action: studio.SeeHistory, Handler: h.History},
		{Method: "GET", Pattern: "/children/{child}/marks", Action: studio.MarkChild, Handler: h.Marks},
		{Method: "POST", Pattern: "/children/{child}/marks", Action: studio.MarkChild, Handler: h.WriteMark},
		{Method: "POST", Pattern: "/children/{child}/marks/{mark}/strike", Action: studio.MarkChild, Handler: h.StrikeMark},
		{Method: "GET", Pattern: "/children/{child}/care", Action: studio.LimitChild, Handler: h.Care},
		{Method: "POST", Pattern: "/children/{child}/limits", Action: studio.LimitChild, Handler: h.SetLimit},
		{Method: "POST", Pattern: "/children/{child}/limits/{limit}/extend", Action: studio.LimitChild, Handler: h.ExtendLimit},
		{Method: "POST", Pattern: "/children/{child}/limits/{limit}/clear", Action: studio.LimitChild, Handler: h.ClearLimit},
		{Method: "POST", Pattern: "/children/{child}/limits/{limit}/reason", Action: studio.LimitChild, Handler: h.ReadReason},
		{Method: "GET", Pattern: "/children/{child}/load", Action: studio.SeeChild, Handler: h.Load},
		{Method: "GET", Pattern: "/children/{child}/home", Action: studio.AssignHome, Handler: h.Home},
		{Method: "POST", Pattern: "/children/{child}/home", Action: studio.AssignHome, Handler: h.SendHome},
		{Method: "POST", Pattern: "/children/{child}/home/{assignment}/withdraw", Action: studio.AssignHome, Handler: h.TakeBack},
		{Method: "POST", Pattern: "/children/{child}/exceptions", Action: studio.AssignHome, Handler: h.TickException},
		{Method: "POST", Pattern: "/children/{child}/exceptions/{exception}/end", Action: studio.AssignHome, Handler: h.EndException},
		{Method: "GET", Pattern: "/studio/forecasts", Action: studio.ReadForecasts, Handler: h.Forecasts},
		{Method: "POST", Pattern: "/studio/forecasts", Action: studio.FitForecasts, Handler: h.FitForecasts},
		{Method: "GET", Pattern: "/studio/forecasts/turned-out", Action: studio.JudgeForecasts, Handler: h.TurnedOut},
		{Method: "GET", Pattern: "/studio/forecasts/turned-out.csv", Action: studio.JudgeForecasts, Handler: h.TurnedOutCSV},
		{Method: "GET", Pattern: "/classes/{class}/forecasts", Action: studio.SeeClass, Handler: h.ClassTurnedOut},
		{Method: "GET", Pattern: "/classes/{class}/forecasts.csv", Action: studio.SeeClass, Handler: h.ClassTurnedOutCSV},
		{Method: "GET", Pattern: "/studio/agreement", Action: studio.SeeAgreement, Handler: h.Agreement},
	}
}

func familyRoutes(h *family.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/home", Action: studio.SeeHome, Handler: h.Home},
		{Method: "GET", Pattern: "/home/{child}", Action: studio.SeeHome, Handler: h.Child},
		{Method: "GET", Pattern: "/home/{child}/hurt", Action: studio.ReportSoreness, Handler: h.Hurt},
		{Method: "POST", Pattern: "/home/{child}/hurt", Action: studio.ReportSoreness, Handler: h.ReportHurt},
		{Method: "GET", Pattern: "/home/{child}/help", Action: studio.SeeHome, Handler: h.Help},
		{Method: "GET", Pattern: "/home/{child}/consents", Action: studio.AnswerConsent, Handler: h.Consents},
		{Method: "POST", Pattern: "/home/{child}/consents/{purpose}", Action: studio.AnswerConsent, Handler: h.AnswerConsent},
		{Method: "GET", Pattern: "/home/{child}/data", Action: studio.OwnData, Handler: h.Data},
		{Method: "POST", Pattern: "/home/{child}/data/copy", Action: studio.OwnData, Handler: h.ExportData},
		{Method: "POST", Pattern: "/home/{child}/data/erase", Action: studio.OwnData, Handler: h.AskErasure},
		{Method: "POST", Pattern: "/home/{child}/practice", Action: studio.NotePractice, Handler: h.Practise},
		{Method: "POST", Pattern: "/home/{child}/practice/strike", Action: studio.NotePractice, Handler: h.StrikePractice},
		{Method: "GET", Pattern: "/home/{child}/messages", Action: studio.SeeHome, Handler: h.Messages},
		{Method: "GET", Pattern: "/home/{child}/reports/{class}.pdf", Action: studio.ReadOwnReport, Handler: h.Report},
		{Method: "GET", Pattern: "/home/calendar", Action: studio.KeepCalendar, Handler: h.Calendar},
		{Method: "POST", Pattern: "/home/calendar", Action: studio.KeepCalendar, Handler: h.MakeCalendar},
		{Method: "POST", Pattern: "/home/calendar/end", Action: studio.KeepCalendar, Handler: h.EndCalendar},
		{Method: "GET", Pattern: "/calendar/{feed}.ics", Action: studio.ReadCalendar, Handler: h.Feed},
	}
}

func studioRoutes(h *people.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/studio", Action: studio.SeeStudio, Handler: h.Overview},
		{Method: "GET", Pattern: "/studio/terms-overview", Action: studio.SeeStudio, Handler: h.TermsOverview},
		{Method: "POST", Pattern: "/studio/terms-overview/all.xlsx", Action: studio.SeeStudio, Handler: h.TermsXLSX},
		{Method: "POST", Pattern: "/studio/terms-overview/{table}.csv", Action: studio.SeeStudio, Handler: h.TermsCSV},
		{Method: "GET", Pattern: "/studio/trail", Action: studio.SeeStudio, Handler: h.Trail},
		{Method: "GET", Pattern: "/studio/trail/check", Action: studio.SeeStudio, Handler: h.TrailCheck},
		{Method: "GET", Pattern: "/studio/retention", Action: studio.SeeStudio, Handler: h.Retention},
		{Method: "GET", Pattern: "/studio/consents", Action: studio.KeepConsents, Handler: h.Consents},
		{Method: "POST", Pattern: "/studio/consents/{purpose}", Action: studio.KeepConsents, Handler: h.AskConsent},
		{Method: "GET", Pattern: "/studio/erasures", Action: studio.EraseChild, Handler: h.Erasures},
		{Method: "GET", Pattern: "/studio/erasures/{child}", Action: studio.EraseChild, Handler: h.Erasure},
		{Method: "POST", Pattern: "/studio/erasures/{child}", Action: studio.EraseChild, Handler: h.Erase},
		{Method: "POST", Pattern: "/studio/erasures/{child}/decline", Action: studio.EraseChild, Handler: h.DeclineErasure},
		{Method: "GET", Pattern: "/studio/people", Action: studio.KeepPeople, Handler: h.People},
		{Method: "GET", Pattern: "/studio/people/invite", Action: studio.KeepPeople, Handler: h.InvitePage},
		{Method: "POST", Pattern: "/studio/people/invite", Action: studio.KeepPeople, Handler: h.Invite},
		{Method: "GET", Pattern: "/studio/people/{account}", Action: studio.KeepPeople, Handler: h.Person},
		{Method: "POST", Pattern: "/studio/people/{account}/roles", Action: studio.KeepPeople, Handler: h.SetRoles},
		{Method: "POST", Pattern: "/studio/people/{account}/lock", Action: studio.KeepPeople, Handler: h.Lock},
		{Method: "POST", Pattern: "/studio/people/{account}/unlock", Action: studio.KeepPeople, Handler: h.Unlock},
		{Method: "POST", Pattern: "/studio/people/{account}/link", Action: studio.KeepPeople, Handler: h.ResetLink},
		{Method: "POST", Pattern: "/studio/people/{account}/staff", Action: studio.KeepPeople, Handler: h.LinkStaff},
		{Method: "POST", Pattern: "/studio/people/{account}/guardians", Action: studio.KeepPeople, Handler: h.AddGuardian},
		{Method: "POST", Pattern: "/studio/people/{account}/guardians/{child}/rights", Action: studio.KeepPeople, Handler: h.SetGuardianRights},
		{Method: "POST", Pattern: "/studio/people/{account}/guardians/{child}/remove", Action: studio.KeepPeople, Handler: h.RemoveGuardian},
		{Method: "POST", Pattern: "/studio/invitations/{invitation}/withdraw", Action: studio.KeepPeople, Handler: h.WithdrawLink},
		{Method: "GET", Pattern: "/studio/staff", Action: studio.KeepPeople, Handler: h.Staff},
		{Method: "GET", Pattern: "/studio/staff/new", Action: studio.KeepPeople, Handler: h.NewStaffPage},
		{Method: "POST", Pattern: "/studio/staff/new", Action: studio.KeepPeople, Handler: h.AddStaff},
		{Method: "GET", Pattern: "/studio/staff/{staff}", Action: studio.KeepPeople, Handler: h.StaffMember},
		{Method: "POST", Pattern: "/studio/staff/{staff}", Action: studio.KeepPeople, Handler: h.SaveStaff},
		{Method: "GET", Pattern: "/studio/children", Action: studio.KeepPeople, Handler: h.Children},
		{Method: "GET", Pattern: "/studio/children/new", Action: studio.KeepPeople, Handler: h.NewChildPage},
		{Method: "POST", Pattern: "/studio/children/new", Action: studio.KeepPeople, Handler: h.AddChild},
		{Method: "GET", Pattern: "/studio/children/{child}", Action: studio.KeepPeople, Handler: h.Child},
		{Method: "POST", Pattern: "/studio/children/{child}", Action: studio.KeepPeople, Handler: h.SaveChild},
		{Method: "GET", Pattern: "/studio/terms", Action: studio.KeepClasses, Handler: h.Terms},
		{Method: "GET", Pattern: "/studio/terms/new", Action: studio.KeepClasses, Handler: h.NewTermPage},
		{Method: "POST", Pattern: "/studio/terms/new", Action: studio.KeepClasses, Handler: h.AddTerm},
		{Method: "GET", Pattern: "/studio/terms/{term}", Action: studio.KeepClasses, Handler: h.Term},
		{Method: "POST", Pattern: "/studio/terms/{term}", Action: studio.KeepClasses, Handler: h.SaveTerm},
		{Method: "POST", Pattern: "/studio/terms/{term}/remove", Action: studio.KeepClasses, Handler: h.DeleteTerm},
		{Method: "GET", Pattern: "/studio/terms/{term}/next", Action: studio.KeepClasses, Handler: h.RollOverPage},
		{Method: "POST", Pattern: "/studio/terms/{term}/next", Action: studio.KeepClasses, Handler: h.RollOver},
		{Method: "POST", Pattern: "/studio/terms/{term}/put-away", Action: studio.KeepClasses, Handler: h.PutAway},
		{Method: "POST", Pattern: "/studio/terms/{term}/take-out", Action: studio.KeepClasses, Handler: h.TakeOut},
		{Method: "GET", Pattern: "/studio/classes", Action: studio.KeepClasses, Handler: h.Classes},
		{Method: "GET", Pattern: "/studio/classes/new", Action: studio.KeepClasses, Handler: h.NewClassPage},
		{Method: "POST", Pattern: "/studio/classes/new", Action: studio.KeepClasses, Handler: h.AddClass},
		{Method: "GET", Pattern: "/studio/classes/{class}", Action: studio.KeepClasses, Handler: h.Class},
		{Method: "GET", Pattern: "/studio/classes/{class}/edit", Action: studio.KeepClasses, Handler: h.EditClassPage},
		{Method: "POST", Pattern: "/studio/classes/{class}/edit", Action: studio.KeepClasses, Handler: h.SaveClass},
		{Method: "POST", Pattern: "/studio/classes/{class}/staff", Action: studio.KeepClasses, Handler: h.PutOn},
		{Method: "POST", Pattern: "/studio/classes/{class}/staff/remove", Action: studio.KeepClasses, Handler: h.TakeOff},
		{Method: "POST", Pattern: "/studio/classes/{class}/children", Action: studio.KeepClasses, Handler: h.Enrol},
		{Method: "POST", Pattern: "/studio/classes/{class}/children/{child}/remove", Action: studio.KeepClasses, Handler: h.Unenrol},
		{Method: "POST", Pattern: "/studio/classes/{class}/lessons", Action: studio.KeepClasses, Handler: h.MakeLessons},
		{Method: "GET", Pattern: "/studio/settings", Action: studio.KeepSettings, Handler: h.Settings},
		{Method: "POST", Pattern: "/studio/settings", Action: studio.KeepSettings, Handler: h.SaveSettings},
		{Method: "GET", Pattern: "/studio/equipment", Action: studio.KeepEquipment, Handler: h.Equipment},
		{Method: "POST", Pattern: "/studio/equipment", Action: studio.KeepEquipment, Handler: h.SaveStock},
		{Method: "POST", Pattern: "/studio/equipment/add", Action: studio.KeepEquipment, Handler: h.AddEquipment},
		{Method: "POST", Pattern: "/studio/equipment/{key}/remove", Action: studio.KeepEquipment, Handler: h.RemoveEquipment},
		{Method: "GET", Pattern: "/studio/sign-offs", Action: studio.KeepSignOffs, Handler: h.SignOffs},
		{Method: "GET", Pattern: "/studio/sign-offs/new", Action: studio.KeepSignOffs, Handler: h.NewSignOffPage},
		{Method: "POST", Pattern: "/studio/sign-offs/new", Action: studio.KeepSignOffs, Handler: h.GrantSignOff},
		{Method: "POST", Pattern: "/studio/sign-offs/{signoff}/revoke", Action: studio.KeepSignOffs, Handler: h.RevokeSignOff},
		{Method: "GET", Pattern: "/studio/cover", Action: studio.SeeCover, Handler: h.Cover},
		{Method: "GET", Pattern: "/studio/roster", Action: studio.ImportRoster, Handler: h.Roster},
		{Method: "GET", Pattern: "/studio/roster/template.csv", Action: studio.ImportRoster, Handler: h.Template},
		{Method: "POST", Pattern: "/studio/roster", Action: studio.ImportRoster, Handler: h.ImportRoster},
	}
}
