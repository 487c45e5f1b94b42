package web_test

import (
	"net/http"
	"net/url"
)

// page is what is expected of one route beside its action.
type page struct {
	on    record                   // what the permission depends on
	query string                   // of the request, with its "?"
	from  string                   // the pattern of the page that holds the form, for POST: its fields as they stand
	form  func(variant) url.Values // the fields of a valid form, or those that differ from the page's
	file  func(variant) *sent      // a valid form that carries a file
	ok    int                      // status for those who may; 200 for GET and 303 for POST when 0
	also  func(who, variant) int   // another status for some of those who may; 0 is the usual one
	only  func(who, variant) bool  // a page that some of those who may do the action have nothing on
	shows func(who) []string       // canaries that may be met here though not elsewhere, with the reason beside it
	quiet bool                     // a POST that changes no row
	logs  bool                     // reading it is written to the trail
	notes []string                 // tables that keep when it was read
	wider []string                 // tables that row-level security alone lets the actor change, with the reason beside it
}

// sent is the body of a POST.
type sent struct{ kind, body string }

func formOf(v url.Values) *sent { return &sent{"application/x-www-form-urlencoded", v.Encode()} }

func (p page) status(as who, v variant, get bool) int {
	if p.also != nil {
		if s := p.also(as, v); s != 0 {
			return s
		}
	}
	switch {
	case p.ok != 0:
		return p.ok
	case get:
		return http.StatusOK
	}
	return http.StatusSeeOther
}

// values makes a form that is the same for every record.
func values(pairs ...string) func(variant) url.Values {
	v := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return func(variant) url.Values { return v }
}

// pages are the routes, each with what is expected of it. A route that is not here fails the matrix.
var pages = map[string]page{
	"GET /sign-in": {on: wholeStudio, also: func(as who, _ variant) int {
		if as.signedIn() {
			return http.StatusSeeOther // has signed in already
		}
		return 0
	}},
	"POST /sign-in":                           {on: wholeStudio, form: values("email", "ownmail@sample.example", "passphrase", sampleWords), quiet: true},
	"POST /sign-out":                          {on: wholeStudio},
	"GET /sign-in/code":                       {on: wholeStudio, ok: http.StatusSeeOther},                     // no passphrase was shown
	"POST /sign-in/code":                      {on: wholeStudio, form: values("code", "000000"), quiet: true}, // goes to sign in
	"POST /sign-in/passkey/begin":             {on: wholeStudio, ok: http.StatusNotFound, quiet: true},        // an address without https has none
	"POST /sign-in/passkey":                   {on: wholeStudio, ok: http.StatusNotFound, quiet: true},        // the same
	"GET /forgotten":                          {on: wholeStudio},
	"POST /forgotten":                         {on: wholeStudio, ok: http.StatusOK, form: values("email", "ownmail@sample.example"), quiet: true, shows: these("ownmail@")},
	"GET /account":                            {on: wholeStudio},
	"POST /account/language":                  {on: wholeStudio, form: values("language", "de")},
	"POST /account/email":                     {on: wholeStudio, form: values("email", "moved@sample.example", "email-present", sampleWords)},
	"POST /account/sessions/end-others":       {on: wholeStudio, wider: []string{"session"}}, // which holds the sentence that tells it
	"POST /account/sessions/{session}/end":    {on: wholeStudio, only: theirs},
	"POST /account/passkeys/begin":            {on: wholeStudio, only: noneYet},
	"POST /account/passkeys":                  {on: wholeStudio, only: noneYet},
	"POST /account/passkeys/{passkey}/name":   {on: wholeStudio, only: theirs, form: values("name", "Old telephone")},
	"POST /account/passkeys/{passkey}/remove": {on: wholeStudio, only: theirs},
	"GET /account/codes":                      {on: wholeStudio, only: halfway},
	"GET /account/guard":                      {on: wholeStudio, ok: http.StatusSeeOther}, // all may do everything
	"POST /account/codes":                     {on: wholeStudio, only: guarded, form: values("codes-present", sampleWords)},
	"POST /account/codes/confirm":             {on: wholeStudio, only: noneYet, form: values("code", "000000")},
	"POST /account/codes/end":                 {on: wholeStudio, only: halfway, form: values("codes-present", sampleWords)},
	"GET /account/children/{child}":           {on: aChild},
	"POST /account/children/{child}":          {on: aChild, ok: http.StatusOK, form: values("name", "Third Person", "email", "third@sample.example", "rights", "hurt")},
	"POST /account/children/{child}/guardians/{guardian}/rights": {on: aChild, form: values("rights", "reports")},
	"POST /account/children/{child}/guardians/{guardian}/remove": {on: aChild},
	"POST /account/children/{child}/links/{link}/withdraw":       {on: aChild},
	"POST /account/passphrase":                                   {on: wholeStudio, form: values("present", sampleWords, "next", "a fresh long row of words")},
	"GET /join/{token}":                                          {on: wholeStudio, shows: invited},
	"POST /join/{token}":                                         {on: wholeStudio, shows: invited, form: values("passphrase", "a fresh long row of words")},
	"GET /address/confirm/{change}":                              {on: wholeStudio, shows: moving},
	"POST /address/confirm/{change}":                             {on: wholeStudio, shows: moving},
	"GET /address/stop/{stop}":                                   {on: wholeStudio, shows: moving},
	"POST /address/stop/{stop}":                                  {on: wholeStudio, shows: moving},
	"GET /":                                                      {on: wholeStudio, also: parentsGoHome},

	"GET /classes":               {on: aClass},
	"GET /classes/{class}":       {on: aClass},
	"GET /classes/{class}/marks": {on: aClass},
	"POST /classes/{class}/marks": {on: aClass, form: func(v variant) url.Values {
		return url.Values{"rung": {"hs-return"}, "child": {childOf(v)}, "none-" + childOf(v): {"clean"}}
	}},
	"GET /classes/{class}/term":                                  {on: aClass},
	"GET /classes/{class}/term/print":                            {on: aClass},
	"GET /classes/{class}/term/forecast":                         {on: aClass},
	"GET /classes/{class}/term/rungs":                            {on: aClass},
	"POST /classes/{class}/term/rungs":                           {on: aClass, form: values("version", "1", "most_new", "2", "lag", "1", "rung", "hs-hold", "rung", "sp-shape")},
	"POST /classes/{class}/term/propose":                         {on: aClass, form: values("version", "1")},
	"POST /classes/{class}/term/move":                            {on: aClass, form: values("version", "1", "rung", "hs-hold", "week", "12")},
	"POST /classes/{class}/term/rung":                            {on: aClass, form: values("version", "1", "rung", "hs-hold", "week", "11", "earliest", "10", "latest", "", "pinned", "yes")},
	"POST /classes/{class}/term/undo":                            {on: aClass, form: values("version", "1")},
	"GET /classes/{class}/showcase":                              {on: aClass},
	"GET /classes/{class}/showcase/new":                          {on: aClass},
	"POST /classes/{class}/showcase/new":                         {on: aClass, form: values("name", "Harbour lights", "rung", "hs-hold")},
	"GET /classes/{class}/showcase/{piece}":                      {on: aClass},
	"GET /classes/{class}/showcase/{piece}/print":                {on: aClass},
	"GET /classes/{class}/showcase/{piece}/edit":                 {on: aClass},
	"POST /classes/{class}/showcase/{piece}/edit":                {on: aClass, form: values("version", "1", "name", "Harbour lights")},
	"POST /classes/{class}/showcase/{piece}/remove":              {on: aClass, form: values("version", "1")},
	"GET /classes/{class}/showcase/{piece}/parts/new":            {on: aClass},
	"POST /classes/{class}/showcase/{piece}/parts/new":           {on: aClass, form: values("version", "1", "part", "Side", "everybody", "yes", "rung", "sp-shape")},
	"GET /classes/{class}/showcase/{piece}/parts/{part}":         {on: aClass},
	"POST /classes/{class}/showcase/{piece}/parts/{part}":        {on: aClass, form: values("version", "1", "part", "Side", "everybody", "yes", "rung", "sp-shape")},
	"POST /classes/{class}/showcase/{piece}/parts/{part}/remove": {on: aClass, form: values("version", "1")},
	"POST /classes/{class}/showcase/{piece}/swap": {on: aClass, form: func(v variant) url.Values {
		return url.Values{"version": {"1"}, "child": {childOf(v)}, "rung": {"hs-hold"}}
	}},
	"POST /classes/{class}/showcase/{piece}/undo": {on: aClass, form: func(v variant) url.Values {
		return url.Values{"version": {"1"}, "child": {childOf(v)}, "rung": {"hs-hold"}}
	}},
	"GET /children/{child}/ahead":                         {on: aChild},
	"GET /children/{child}/notes":                         {on: aChild},
	"POST /children/{child}/notes":                        {on: aChild, form: values("note", "Likes to be shown first.")},
	"GET /children/{child}/history":                       {on: aChild},
	"GET /children/{child}/messages":                      {on: aChild},
	"POST /children/{child}/messages":                     {on: aChild, form: values("note", "A good week.")},
	"POST /children/{child}/messages/{message}/take-back": {on: aChild},
	"GET /classes/{class}/messages":                       {on: aClass},
	"POST /classes/{class}/messages":                      {on: aClass, form: values("note", "Bring water.")},
	"POST /classes/{class}/messages/{note}/take-back":     {on: aClass},
	"POST /children/{child}/marks/{mark}/strike":          {on: aChild, only: notHelping},
	"GET /children":                                       {on: aChild},
	"GET /children/{child}":                               {on: aChild},
	"GET /children/{child}/marks":                         {on: aChild, only: notHelping},
	"POST /children/{child}/marks":                        {on: aChild, only: notHelping, form: values("rung", "hs-return", "outcome", "clean")},
	"GET /children/{child}/care":                          {on: aChild},
	"POST /children/{child}/limits":                       {on: aChild, form: values("action", "No jumps today", "from", "2026-03-04", "until", "2026-03-05", "avoid", "landing")},
	"POST /children/{child}/limits/{limit}/extend":        {on: aChild, form: values("until", "2026-04-01", "review", "2026-03-20", "note", "Still sore.")},
	"POST /children/{child}/limits/{limit}/clear":         {on: aChild, form: values("note", "Seen to be well again.")},
	"POST /children/{child}/limits/{limit}/reason":        {on: aChild, ok: http.StatusOK},
	"GET /children/{child}/load":                          {on: aChild},
	"GET /children/{child}/home":                          {on: aChild},
	"POST /children/{child}/home":                         {on: aChild, form: values("drill", "d-dish", "sets", "2", "repeats", "6", "hold", "0", "from", "2026-03-04", "until", "2026-03-11", "why", "Steady now.")},
	"POST /children/{child}/home/{assignment}/withdraw":   {on: aChild},
	"POST /children/{child}/exceptions":                   {on: aChild, also: noAdult, form: values("exception", "d-kick", "reason", "Clean for weeks.", "last", "2026-03-20")},
	"POST /children/{child}/exceptions/{exception}/end":   {on: aChild},
	"GET /classes/{class}/home":                           {on: aClass, query: "?drill=d-dish"},
	"POST /classes/{class}/home": {on: aClass, form: func(v variant) url.Values {
		return url.Values{"drill": {"d-dish"}, "sets": {"2"}, "repeats": {"6"}, "hold": {"0"}, "from": {"2026-03-04"}, "until": {"2026-03-11"}, "child": {childOf(v)}}
	}},

	"GET /studio/forecasts":                {on: wholeStudio},
	"POST /studio/forecasts":               {on: wholeStudio},
	"GET /studio/agreement":                {on: wholeStudio},
	"GET /studio/forecasts/turned-out":     {on: wholeStudio},
	"GET /studio/forecasts/turned-out.csv": {on: wholeStudio},
	"GET /classes/{class}/forecasts":       {on: aClass},
	"GET /classes/{class}/forecasts.csv":   {on: aClass},

	"GET /home":                             {on: aChild, also: parentsGoHome},
	"GET /home/{child}":                     {on: aChild},
	"GET /home/{child}/consents":            {on: aChild},
	"POST /home/{child}/consents/{purpose}": {on: aChild, form: values("answer", "yes")},
	"GET /home/{child}/data":                {on: aChild},
	"POST /home/{child}/data/copy":          {on: aChild, ok: http.StatusOK, form: values("as", "json", "passphrase", sampleWords), shows: copied},
	"POST /home/{child}/data/erase":         {on: aChild, ok: http.StatusConflict}, // asked already
	"GET /home/{child}/help":                {on: aChild},
	"GET /home/{child}/hurt":                {on: aChild},
	"POST /home/{child}/hurt":               {on: aChild, form: values("place", "Wrist or hand", "how-much", "3", "doing", "A plank", "since", "2026-03-03")},
	"POST /home/{child}/practice":           {on: aChild, form: func(v variant) url.Values { return url.Values{"drill": {assignmentOf(v)}} }},
	"POST /home/{child}/practice/strike": {on: aChild, form: func(v variant) url.Values {
		return url.Values{"drill": {assignmentOf(v)}, "day": {"2026-03-02"}}
	}},
	"GET /home/{child}/messages":            {on: aChild, notes: []string{"message_read"}},
	"GET /home/{child}/reports/{class}.pdf": {on: aChild},
	"GET /home/calendar":                    {on: wholeStudio},
	"POST /home/calendar":                   {on: wholeStudio, ok: http.StatusOK, wider: ownLink},
	"POST /home/calendar/end":               {on: wholeStudio},
	"GET /calendar/{feed}.ics":              {on: wholeStudio, shows: subscribed, notes: []string{"calendar_feed"}},

	"GET /lessons/{lesson}":          {on: aLesson},
	"GET /lessons/{lesson}/print":    {on: aLesson},
	"GET /lessons/{lesson}/compare":  {on: aLesson, also: noPlan},
	"GET /lessons/{lesson}/plan.svg": {on: aLesson, also: noPlan},
	"POST /lessons/{lesson}/present": {on: aLesson, wider: []string{"attendance"}, form: func(v variant) url.Values { return url.Values{"asked": {childOf(v)}} }},
	"POST /lessons/{lesson}/effort":  {on: aLesson, also: notHeld, form: values("effort", "6")},
	"POST /lessons/{lesson}/note":    {on: aLesson, form: values("note", "Slow start, good end.")},
	"GET /lessons/{lesson}/blocks":   {on: aLesson},
	"POST /lessons/{lesson}/blocks": {on: aLesson, form: values("minutes-arrive", "5", "minutes-warm-up", "10", "drills-warm-up", "d-warm", "minutes-conditioning", "0",
		"minutes-stations", "40", "minutes-cool-down", "5", "drills-cool-down", "d-cool")},
	"GET /lessons/{lesson}/pairs":         {on: aLesson},
	"POST /lessons/{lesson}/pairs":        {on: aLesson, also: onePair, form: values("one", id("c1a1"), "other", id("c1a2"), "wish", "apart")},
	"POST /lessons/{lesson}/pairs/remove": {on: aLesson, also: onePair, form: values("one", id("c1a1"), "other", id("c1a2"))},
	"POST /lessons/{lesson}/plan":         {on: aLesson, form: plan(nil)},
	"POST /lessons/{lesson}/plan/refine":  {on: aLesson, form: plan(nil), quiet: true},                                     // the plan is shared and stays
	"POST /lessons/{lesson}/plan/copy":    {on: aLesson, form: plan(nil), ok: http.StatusUnprocessableEntity, quiet: true}, // no earlier plan
	"POST /lessons/{lesson}/plan/undo":    {on: aLesson, form: plan(nil), also: noPlan},
	"POST /lessons/{lesson}/plan/share":   {on: aLesson, form: plan(nil), also: noPlan},
	"POST /lessons/{lesson}/plan/group":   {on: aLesson, also: noPlan, form: plan(func(v variant) url.Values { return url.Values{"child": {childOf(v)}, "to": {"0"}} })},
	"POST /lessons/{lesson}/plan/activity": {on: aLesson, also: noPlan, form: plan(func(v variant) url.Values {
		return url.Values{"child": {childOf(v)}, "activity": {"drill d-dish"}, "stays": {"yes"}}
	})},
	"POST /lessons/{lesson}/plan/station":   {on: aLesson, also: noPlan, form: plan(values("station", "spare"))},
	"POST /lessons/{lesson}/plan/staff":     {on: aLesson, also: noPlan, form: plan(nil)},
	"POST /lessons/{lesson}/plan/pin-cell":  {on: aLesson, also: noPlan, form: plan(values("pinned", "yes"))},
	"POST /lessons/{lesson}/plan/pin-child": {on: aLesson, also: noPlan, form: plan(func(v variant) url.Values { return url.Values{"child": {childOf(v)}, "pinned": {"yes"}} })},
	"POST /lessons/{lesson}/call-off":       {on: aLesson, also: hasBegun},
	"POST /lessons/{lesson}/put-back":       {on: aLesson, ok: http.StatusConflict, quiet: true}, // none is called off
	"GET /tonight/{lesson}":                 {on: aLesson},

	"GET /lessons/{lesson}/sheet":      {on: aLesson},
	"GET /lessons/{lesson}/sheet.json": {on: aLesson},
	"POST /lessons/{lesson}/sheet/item": {on: aLesson, form: func(v variant) url.Values {
		return url.Values{"kind": {"attendance"}, "child": {childOf(v)}, "present": {"no"}}
	}},
	"POST /lessons/{lesson}/sheet/clock":    {on: aLesson, also: noClock, form: values("do", "next", "version", "1")},
	"POST /sheet/items":                     {on: wholeStudio, ok: http.StatusOK, file: batch},
	"GET /lessons/{lesson}/stop":            {on: aLesson},
	"POST /lessons/{lesson}/stop":           {on: aLesson, form: values("at", "16:30", "what", "A fall from the bench.", "done", "Sat down, ice.", "told", "The parents at the door.")},
	"GET /lessons/{lesson}/review":          {on: aLesson},
	"POST /lessons/{lesson}/review/confirm": {on: aLesson, form: values("mark", id("a0a2"), "what", "count"), quiet: true}, // none waits
	"POST /lessons/{lesson}/review/item": {on: aLesson, also: noItem, form: func(v variant) url.Values {
		return url.Values{"item": {id("5e" + itemOf(v))}, "digest": {"digest-" + itemOf(v)}, "what": {"accept"}}
	}},
	"POST /lessons/{lesson}/review/home":        {on: aLesson, form: func(v variant) url.Values { return url.Values{"home": {childOf(v) + " d-dish"}} }},
	"GET /incidents/{incident}":                 {on: aLesson, logs: true},
	"POST /incidents/{incident}/add":            {on: aLesson, form: values("words", "Well again the next day.")},
	"GET /studio/incidents":                     {on: wholeStudio, logs: true},
	"GET /sign-off-requests":                    {on: wholeStudio},
	"POST /sign-off-requests":                   {on: wholeStudio, form: values("wish", "rung hs-hold", "words", "On Wednesdays.")},
	"POST /sign-off-requests/{request}/grant":   {on: wholeStudio, form: values("until", "2026-09-01")},
	"POST /sign-off-requests/{request}/decline": {on: wholeStudio, form: values("answer", "Hands come late.")},

	"GET /ladders":                             {on: wholeStudio},
	"GET /ladders/export":                      {on: wholeStudio},
	"GET /ladders/import":                      {on: wholeStudio},
	"POST /ladders/import":                     {on: wholeStudio, ok: http.StatusOK, file: upload("turns.yaml", "ladder: {key: turns, name: Turns, family: wheels}\n"), quiet: true}, // says what it would change
	"GET /ladders/arrange":                     {on: wholeStudio},
	"POST /ladders/arrange":                    {on: wholeStudio, form: values("ladder", "spare", "way", "down"), quiet: true}, // alone in its family
	"GET /ladders/add":                         {on: wholeStudio},
	"POST /ladders/add":                        {on: wholeStudio, form: values("name", "Turns", "family", "wheels")},
	"GET /ladders/{ladder}":                    {on: wholeStudio},
	"GET /ladders/{ladder}/edit":               {on: wholeStudio},
	"POST /ladders/{ladder}/edit":              {on: wholeStudio, form: values("name", "On the hands", "family", "upside down")},
	"POST /ladders/{ladder}/remove":            {on: wholeStudio, ok: http.StatusConflict}, // it has rungs
	"GET /ladders/{ladder}/arrange":            {on: wholeStudio},
	"POST /ladders/{ladder}/arrange":           {on: wholeStudio, form: values("rung", "hs-return", "way", "up")},
	"GET /ladders/{ladder}/add-rung":           {on: wholeStudio},
	"POST /ladders/{ladder}/add-rung":          {on: wholeStudio, form: rungForm},
	"GET /rungs/{rung}":                        {on: wholeStudio},
	"GET /rungs/{rung}/edit":                   {on: wholeStudio},
	"POST /rungs/{rung}/edit":                  {on: wholeStudio, form: rungForm},
	"GET /rungs/{rung}/move":                   {on: wholeStudio},
	"POST /rungs/{rung}/move":                  {on: wholeStudio, form: values("place", "spare/sp-shape")},
	"POST /rungs/{rung}/remove":                {on: wholeStudio, ok: http.StatusConflict}, // another rung needs it
	"GET /rungs/{rung}/add-fault":              {on: wholeStudio},
	"POST /rungs/{rung}/add-fault":             {on: wholeStudio, form: values("name", "Head drops")},
	"GET /rungs/{rung}/faults/{fault}":         {on: wholeStudio},
	"POST /rungs/{rung}/faults/{fault}":        {on: wholeStudio, form: values("name", "Arms give way", "safety", "yes")},
	"POST /rungs/{rung}/faults/{fault}/remove": {on: wholeStudio},
	"GET /drills":                              {on: wholeStudio, query: "?q=circle&kind=warm-up&home=yes"},
	"GET /drills/add":                          {on: wholeStudio},
	"POST /drills/add":                         {on: wholeStudio, form: drillForm},
	"GET /drills/{drill}":                      {on: wholeStudio},
	"GET /drills/{drill}/edit":                 {on: wholeStudio},
	"POST /drills/{drill}/edit":                {on: wholeStudio, form: drillForm},
	"POST /drills/{drill}/remove":              {on: wholeStudio},

	"GET /reports":                                {on: aClass},
	"GET /reports/{class}":                        {on: aClass},
	"POST /reports/{class}/term-report.pdf":       {on: aClass, ok: http.StatusOK},
	"POST /reports/{class}/term-report.csv":       {on: aClass, ok: http.StatusOK},
	"POST /reports/{class}/{child}.pdf":           {on: aClass, ok: http.StatusOK},
	"POST /reports/{class}/term-report.xlsx":      {on: aClass, ok: http.StatusOK},
	"GET /reports/{class}/notes":                  {on: aClass},
	"POST /reports/{class}/{child}/note":          {on: aClass, form: values("note", "Listens well.")},
	"GET /reports/all":                            {on: wholeStudio},
	"POST /reports/all":                           {on: wholeStudio, form: values("term", id("7e01"))},
	"GET /reports/all/{bundle}":                   {on: wholeStudio},
	"POST /reports/all/{bundle}/stop":             {on: wholeStudio},
	"POST /reports/all/{bundle}/term-reports.zip": {on: wholeStudio, ok: http.StatusOK, form: values("passphrase", sampleWords)},
	"POST /reports/{class}/release":               {on: aClass, form: func(v variant) url.Values { return url.Values{"child": {childOf(v)}} }},
	"POST /reports/{class}/{child}/take-back":     {on: aClass},

	"GET /studio":                                            {on: wholeStudio},
	"GET /studio/terms-overview":                             {on: wholeStudio, query: "?all=yes&family=shapes"},
	"POST /studio/terms-overview/all.xlsx":                   {on: wholeStudio, ok: http.StatusOK},
	"POST /studio/terms-overview/{table}.csv":                {on: wholeStudio, ok: http.StatusOK},
	"GET /studio/trail":                                      {on: wholeStudio},
	"GET /studio/people":                                     {on: wholeStudio},
	"GET /studio/trail/check":                                {on: wholeStudio},
	"GET /studio/retention":                                  {on: wholeStudio},
	"GET /studio/consents":                                   {on: wholeStudio},
	"POST /studio/consents/{purpose}":                        {on: wholeStudio, form: values("words", "May we?")},
	"GET /studio/erasures":                                   {on: wholeStudio},
	"GET /studio/erasures/{child}":                           {on: wholeStudio},
	"POST /studio/erasures/{child}":                          {on: wholeStudio, form: func(v variant) url.Values { return url.Values{"name": {nameOfChild(v)}, "passphrase": {sampleWords}} }},
	"POST /studio/erasures/{child}/decline":                  {on: wholeStudio, also: notAsked, form: values("answer", "Not before the term ends.")},
	"GET /studio/people/invite":                              {on: wholeStudio},
	"POST /studio/people/invite":                             {on: wholeStudio, form: values("name", "New Comer", "email", "new@sample.example", "roles", "assistant"), ok: http.StatusOK},
	"GET /studio/people/{account}":                           {on: wholeStudio},
	"POST /studio/people/{account}/roles":                    {on: wholeStudio, wider: []string{"account_note"}, form: values("roles", "assistant")}, // a note to oneself
	"POST /studio/people/{account}/lock":                     {on: wholeStudio},
	"POST /studio/people/{account}/unlock":                   {on: wholeStudio, quiet: true},
	"POST /studio/people/{account}/link":                     {on: wholeStudio, ok: http.StatusOK},
	"POST /studio/people/{account}/staff":                    {on: wholeStudio},
	"POST /studio/people/{account}/guardians":                {on: wholeStudio, form: values("child", id("c1a2"), "relation", "aunt")},
	"POST /studio/people/{account}/guardians/{child}/rights": {on: wholeStudio, form: values("rights", "hurt")},
	"POST /studio/people/{account}/guardians/{child}/remove": {on: wholeStudio},
	"POST /studio/invitations/{invitation}/withdraw":         {on: wholeStudio},
	"GET /studio/staff":                                      {on: wholeStudio},
	"GET /studio/staff/new":                                  {on: wholeStudio},
	"POST /studio/staff/new":                                 {on: wholeStudio, form: values("name", "Nils Ember", "birth_date", "2001-02-03", "can_lead", "yes")},
	"GET /studio/staff/{staff}":                              {on: wholeStudio},
	"POST /studio/staff/{staff}":                             {on: wholeStudio, from: "/studio/staff/{staff}", form: values("phone", "0100 555 0199")},
	"GET /studio/children":                                   {on: wholeStudio},
	"GET /studio/children/new":                               {on: wholeStudio},
	"POST /studio/children/new":                              {on: wholeStudio, form: values("given_name", "Dune", "family_name", "Dorn", "birth_date", "2016-02-03")},
	"GET /studio/children/{child}":                           {on: wholeStudio},
	"POST /studio/children/{child}":                          {on: wholeStudio, from: "/studio/children/{child}", form: values("given_name", "Renamed")},
	"GET /studio/terms":                                      {on: wholeStudio},
	"GET /studio/terms/new":                                  {on: wholeStudio},
	"POST /studio/terms/new":                                 {on: wholeStudio, form: values("name", "Autumn", "starts_on", "2026-09-07", "ends_on", "2026-12-18")},
	"GET /studio/terms/{term}":                               {on: wholeStudio},
	"POST /studio/terms/{term}":                              {on: wholeStudio, from: "/studio/terms/{term}", form: values("name", "Renamed")},
	"POST /studio/terms/{term}/remove":                       {on: wholeStudio, also: usedByOthers},
	"GET /studio/terms/{term}/next":                          {on: wholeStudio},
	"POST /studio/terms/{term}/next":                         {on: wholeStudio, form: anotherTerm, also: onlyTheTermOf},
	"POST /studio/terms/{term}/put-away":                     {on: wholeStudio, ok: http.StatusConflict, quiet: true}, // neither is over
	"POST /studio/terms/{term}/take-out":                     {on: wholeStudio, ok: http.StatusConflict, quiet: true}, // neither was put away
	"GET /studio/classes":                                    {on: wholeStudio},
	"GET /studio/classes/new":                                {on: wholeStudio},
	"POST /studio/classes/new":                               {on: wholeStudio, from: "/studio/classes/new", form: values("name", "Citrineclass", "term", id("7e02"), "starts_at", "17:00", "weekday", "4")},
	"GET /studio/classes/{class}":                            {on: wholeStudio},
	"GET /studio/classes/{class}/edit":                       {on: wholeStudio},
	"POST /studio/classes/{class}/edit":                      {on: wholeStudio, from: "/studio/classes/{class}/edit", form: values("name", "Renamed"), wider: ownLessons},
	"POST /studio/classes/{class}/lessons":                   {on: wholeStudio, wider: ownLessons},
	"POST /studio/classes/{class}/staff":                     {on: wholeStudio, form: values("staff", id("5f01"), "duty", "assistant", "from_on", "2026-03-04")},
	"POST /studio/classes/{class}/staff/remove":              {on: wholeStudio, form: staffOf},
	"POST /studio/classes/{class}/children":                  {on: wholeStudio, form: enrolling},
	"POST /studio/classes/{class}/children/{child}/remove":   {on: wholeStudio},
	"GET /studio/settings":                                   {on: wholeStudio},
	"POST /studio/settings":                                  {on: wholeStudio, form: values("group", "home", "home-days", "5", "home-exception", "3")},
	"GET /studio/equipment":                                  {on: wholeStudio},
	"POST /studio/equipment":                                 {on: wholeStudio, from: "/studio/equipment", form: values("stock-wall", "3")},
	"POST /studio/equipment/add":                             {on: wholeStudio, form: values("name", "Trestle", "stock", "2")},
	"POST /studio/equipment/{key}/remove":                    {on: wholeStudio, also: usedByOthers},
	"GET /studio/sign-offs":                                  {on: wholeStudio},
	"GET /studio/sign-offs/new":                              {on: wholeStudio},
	"POST /studio/sign-offs/new":                             {on: wholeStudio, form: values("staff", id("5f05"), "rungs", "hs-return", "until", "2026-12-31")},
	"POST /studio/sign-offs/{signoff}/revoke":                {on: wholeStudio},
	"GET /studio/cover":                                      {on: wholeStudio},
	"GET /studio/roster":                                     {on: wholeStudio},
	"GET /studio/roster/template.csv":                        {on: wholeStudio},
	"POST /studio/roster":                                    {on: wholeStudio, file: upload("roster.csv", "x"), ok: http.StatusUnprocessableEntity},
}
