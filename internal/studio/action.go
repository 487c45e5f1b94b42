package studio

// Action names one thing that somebody may want to do. Every route carries one; the policy table of internal/app says who may.
type Action string

// The actions, by area.
const (
	// Anybody.
	SignIn Action = "sign in"
	Join   Action = "join by invitation"
	// Everybody who is signed in.
	SeeToday   Action = "see today"
	OwnAccount Action = "keep own account"
	// GuardAccount is open also to whoever must do it before anything else; see Actor.Unguarded.
	GuardAccount Action = "set up a code or a passkey"
	// Studio.
	SeeStudio     Action = "see the studio"
	KeepPeople    Action = "keep people and invitations"
	KeepClasses   Action = "keep classes, terms and holidays"
	KeepEquipment Action = "keep equipment"
	KeepSignOffs  Action = "keep sign-offs"
	KeepSettings  Action = "keep the studio's settings"
	SeeCover      Action = "see the cover of the next lessons"
	ImportRoster  Action = "import a roster"
	KeepConsents  Action = "keep what families are asked consent for"
	EraseChild    Action = "erase a child"
	// Library.
	ReadLibrary Action = "read the library"
	EditLibrary Action = "edit the library"
	// Classes, children, lessons.
	SeeClass      Action = "see a class"
	KeepPacing    Action = "keep a class's term"
	SeeChild      Action = "see a child"
	KeepNotes     Action = "keep notes about a child"
	SeeHistory    Action = "see a child's history"
	MarkChild     Action = "mark a child"
	LimitChild    Action = "keep care limits"
	AssignHome    Action = "send drills home"
	SeeLesson     Action = "see a lesson"
	KeepLesson    Action = "keep a lesson"
	PlanLesson    Action = "plan a lesson"
	SeeStations   Action = "see own stations"
	RunSheet      Action = "run the class sheet"
	SendMarks     Action = "send marks from a device" // each is judged by its lesson when it arrives
	KeepIncident  Action = "keep incident records"
	AskSignOff    Action = "ask for a sign-off"
	SeeReports    Action = "see reports"
	ExportReport  Action = "export a term report"
	WriteReport   Action = "write to parents in a term report"
	BundleReports Action = "have all term reports made"
	// What marks say of rungs and of those who mark.
	ReadForecasts  Action = "read how rungs are learned"
	FitForecasts   Action = "work out how rungs are learned"
	JudgeForecasts Action = "see how forecasts turned out in the studio"
	SeeAgreement   Action = "see how markers agree"
	// Family.
	SeeHome        Action = "see own children"
	KeepGuardians  Action = "let further guardians in"
	ReadOwnReport  Action = "read own child's term report"
	ReportSoreness Action = "report that something hurt"
	NotePractice   Action = "note practice at home"
	KeepCalendar   Action = "keep a calendar link"
	ReadCalendar   Action = "read a calendar by its link" // whoever holds the link
	AnswerConsent  Action = "give and withdraw consent"
	OwnData        Action = "ask for own child's data"
	WriteFamilies  Action = "write to families"
	ReleaseReport  Action = "release term reports to families"
)
