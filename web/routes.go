package web

import (
	"slices"

	"rungbook/internal/app"
	"rungbook/internal/studio"
	"rungbook/web/account"
	"rungbook/web/family"
	"rungbook/web/kit"
	"rungbook/web/lesson"
	"rungbook/web/reports"
	"rungbook/web/standing"
	"rungbook/web/today"
)

// Routes is the route table: every page with its action. The policy table of internal/app says who may.
func Routes(a *app.App, k *kit.Kit) []kit.Route {
	return slices.Concat(
		accountRoutes(account.New(a, k)),
		todayRoutes(today.New(a, k)),
		standingRoutes(standing.New(a, k)),
		familyRoutes(family.New(a, k)),
		lessonRoutes(lesson.New(a, k)),
		reportRoutes(reports.New(a, k)),
	)
}

func accountRoutes(h *account.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/sign-in", Action: studio.SignIn, Handler: h.SignInPage},
		{Method: "POST", Pattern: "/sign-in", Action: studio.SignIn, Handler: h.SignIn},
		{Method: "POST", Pattern: "/sign-out", Action: studio.OwnAccount, Handler: h.SignOut},
		{Method: "GET", Pattern: "/account", Action: studio.OwnAccount, Handler: h.Account},
		{Method: "POST", Pattern: "/account/passphrase", Action: studio.OwnAccount, Handler: h.ChangePassphrase},
	}
}

func todayRoutes(h *today.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/", Action: studio.SeeToday, Handler: h.Today},
	}
}

func reportRoutes(h *reports.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/reports", Action: studio.SeeReports, Handler: h.Reports},
		{Method: "GET", Pattern: "/reports/{class}", Action: studio.SeeReports, Handler: h.Class},
		{Method: "POST", Pattern: "/reports/{class}/term-report.pdf", Action: studio.ExportReport, Handler: h.PDF},
		{Method: "POST", Pattern: "/reports/{class}/term-report.csv", Action: studio.ExportReport, Handler: h.CSV},
		{Method: "POST", Pattern: "/reports/{class}/{child}.pdf", Action: studio.ExportReport, Handler: h.ChildPDF},
	}
}

func lessonRoutes(h *lesson.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/lessons/{lesson}", Action: studio.SeeLesson, Handler: h.Lesson},
		{Method: "GET", Pattern: "/lessons/{lesson}/print", Action: studio.SeeLesson, Handler: h.Print},
		{Method: "GET", Pattern: "/lessons/{lesson}/plan.svg", Action: studio.SeeLesson, Handler: h.Picture},
		{Method: "POST", Pattern: "/lessons/{lesson}/present", Action: studio.KeepLesson, Handler: h.NotePresent},
		{Method: "POST", Pattern: "/lessons/{lesson}/note", Action: studio.KeepLesson, Handler: h.Note},
		{Method: "GET", Pattern: "/lessons/{lesson}/blocks", Action: studio.KeepLesson, Handler: h.Blocks},
		{Method: "POST", Pattern: "/lessons/{lesson}/blocks", Action: studio.KeepLesson, Handler: h.KeepBlocks},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan", Action: studio.PlanLesson, Handler: h.Propose},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/share", Action: studio.PlanLesson, Handler: h.Share},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/group", Action: studio.PlanLesson, Handler: h.Move},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/activity", Action: studio.PlanLesson, Handler: h.SetActivity},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/station", Action: studio.PlanLesson, Handler: h.SetStation},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/staff", Action: studio.PlanLesson, Handler: h.SetStaff},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/pin-cell", Action: studio.PlanLesson, Handler: h.PinCell},
		{Method: "POST", Pattern: "/lessons/{lesson}/plan/pin-child", Action: studio.PlanLesson, Handler: h.PinChild},
		{Method: "GET", Pattern: "/tonight/{lesson}", Action: studio.SeeStations, Handler: h.Tonight},
	}
}

func standingRoutes(h *standing.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/classes", Action: studio.SeeClass, Handler: h.Classes},
		{Method: "GET", Pattern: "/classes/{class}", Action: studio.SeeClass, Handler: h.Class},
		{Method: "GET", Pattern: "/children", Action: studio.SeeChild, Handler: h.Children},
		{Method: "GET", Pattern: "/children/{child}", Action: studio.SeeChild, Handler: h.Child},
		{Method: "GET", Pattern: "/children/{child}/marks", Action: studio.MarkChild, Handler: h.Marks},
		{Method: "POST", Pattern: "/children/{child}/marks", Action: studio.MarkChild, Handler: h.WriteMark},
		{Method: "GET", Pattern: "/children/{child}/care", Action: studio.LimitChild, Handler: h.Care},
		{Method: "POST", Pattern: "/children/{child}/limits", Action: studio.LimitChild, Handler: h.SetLimit},
		{Method: "POST", Pattern: "/children/{child}/limits/{limit}/clear", Action: studio.LimitChild, Handler: h.ClearLimit},
		{Method: "POST", Pattern: "/children/{child}/limits/{limit}/reason", Action: studio.LimitChild, Handler: h.ReadReason},
		{Method: "GET", Pattern: "/children/{child}/home", Action: studio.AssignHome, Handler: h.Home},
		{Method: "POST", Pattern: "/children/{child}/home", Action: studio.AssignHome, Handler: h.SendHome},
		{Method: "POST", Pattern: "/children/{child}/home/{assignment}/withdraw", Action: studio.AssignHome, Handler: h.TakeBack},
	}
}

func familyRoutes(h *family.Handler) []kit.Route {
	return []kit.Route{
		{Method: "GET", Pattern: "/home", Action: studio.SeeHome, Handler: h.Home},
		{Method: "GET", Pattern: "/home/{child}", Action: studio.SeeHome, Handler: h.Child},
		{Method: "GET", Pattern: "/home/{child}/hurt", Action: studio.ReportSoreness, Handler: h.Hurt},
		{Method: "POST", Pattern: "/home/{child}/hurt", Action: studio.ReportSoreness, Handler: h.ReportHurt},
		{Method: "GET", Pattern: "/home/{child}/help", Action: studio.SeeHome, Handler: h.Help},
	}
}
