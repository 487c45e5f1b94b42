package app

import (
	"context"
	"strings"
	"testing"

	"github.com/google/uuid"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/testkit"
)

func anException() NewException {
	return NewException{Child: testkit.SampleID("c1a1"), Drill: "d-kick", Reason: "She has kicked up cleanly for weeks.", Until: date("2026-03-25")}
}

// wellAgain is a desk where no care limit holds.
func wellAgain(t *testing.T) *desk {
	t.Helper()
	d := openDesk(t)
	ownerExec(t, `update care_limit set cleared_at = now()`)
	return d
}

func ownerExec(t *testing.T, sql string, args ...any) {
	t.Helper()
	if _, err := ownerConn(t).Exec(t.Context(), sql, args...); err != nil {
		t.Fatal(err)
	}
}

// liveException ticks the exception and gives its id.
func (d *desk) liveException(t *testing.T) uuid.UUID {
	t.Helper()
	if err := d.TickException(t.Context(), d.teacher, anException()); err != nil {
		t.Fatal(err)
	}
	for _, x := range d.homework(t).Exceptions {
		if x.Live {
			return x.ID
		}
	}
	t.Fatal("the exception that was ticked is not live")
	return uuid.Nil
}

func (d *desk) homework(t *testing.T) HomeworkView {
	t.Helper()
	view, err := d.HomeworkOf(t.Context(), d.teacher, testkit.SampleID("c1a1"), "")
	if err != nil {
		t.Fatal(err)
	}
	return view
}

func TestOnlyThoseWhoTakeTheChildTick(t *testing.T) {
	d, ctx := wellAgain(t), t.Context()
	id := d.liveException(t)
	for name, actor := range map[string]studio.Actor{"teacher of another class": d.actor(t, "ac03"), "assistant of the class": d.assistant,
		"guardian": d.parent, "guardian of another child": d.actor(t, "ac07"), "nobody": {}} {
		wantCode(t, name+" ticks", d.TickException(ctx, actor, anException()), studio.NotFound)
		wantCode(t, name+" ends", d.EndException(ctx, actor, testkit.SampleID("c1a1"), id), studio.NotFound)
		_, err := d.HomeOfClass(ctx, actor, testkit.SampleID("c0a0"), uuid.Nil, "")
		wantCode(t, name+" reads what suits the class", err, studio.NotFound)
		_, err = d.SendClass(ctx, actor, aClassSend("c1a2"))
		wantCode(t, name+" sends to the class", err, studio.NotFound)
	}
	wantCode(t, "by way of another child", d.EndException(ctx, d.owner, testkit.SampleID("c1b1"), id), studio.NotFound)
	if err := d.EndException(ctx, d.owner, testkit.SampleID("c1a1"), id); err != nil {
		t.Errorf("the owner ends it: %v", err)
	}
	wantCode(t, "ended twice", d.EndException(ctx, d.owner, testkit.SampleID("c1a1"), id), studio.NotFound)
	if action, subject, _ := lastAudit(t, d.App); action != "ended an exception for home" || !strings.HasSuffix(subject, "c1a1") {
		t.Errorf("the trail says %q of %q", action, subject)
	}
}

func TestWhatCannotBeTicked(t *testing.T) {
	d := wellAgain(t)
	for name, c := range map[string]struct {
		sql    string
		change func(*NewException)
		field  string
		says   string
	}{
		"a drill that needs a spotter":           {`update drill set spot_people = 1, spot_manner = 'hands-on', spot_until = 'x', spot_how = 'y' where key = 'd-kick'`, nil, "exception", "needs a spotter"},
		"a drill with equipment from the studio": {`insert into drill_equipment (drill_key, equipment_key, count, places) values ('d-kick', 'panel-mat', 1, 1)`, nil, "exception", "not on the list for home"},
		"a drill that is safe alone":             {"", func(n *NewException) { n.Drill = "d-dish" }, "exception", "safe alone"},
		"a family that has not agreed":           {`delete from consent_answer`, nil, "exception", "has not agreed"},
		"no reason":                              {"", func(n *NewException) { n.Reason = " " }, "reason", "Say why"},
		"longer than the studio sets":            {"", func(n *NewException) { n.Until = date("2026-04-02") }, "last", "1 April"},
		"a last day that is over":                {"", func(n *NewException) { n.Until = date("2026-03-03") }, "last", "from today"},
	} {
		t.Run(name, func(t *testing.T) {
			d := d
			if c.sql != "" {
				d = wellAgain(t)
				ownerExec(t, `delete from home_exception`)
				ownerExec(t, c.sql)
			}
			n := anException()
			if c.change != nil {
				c.change(&n)
			}
			if err := d.TickException(t.Context(), d.teacher, n); !strings.Contains(problem(err, c.field), c.says) {
				t.Errorf("got %v", err)
			}
		})
	}
	n := anException()
	n.Drill = "no-drill"
	wantCode(t, "a drill that is not there", d.TickException(t.Context(), d.teacher, n), studio.NotFound)
	d.liveException(t)
	if err := d.TickException(t.Context(), d.teacher, anException()); !strings.Contains(problem(err, "exception"), "already") {
		t.Errorf("ticked twice: %v", err)
	}
}

func (d *desk) sendKick(t *testing.T) error {
	t.Helper()
	n := aDrill("d-kick")
	n.Dose = studio.Dose{Sets: 1, Repeats: 2}
	return d.SendHome(t.Context(), d.teacher, n)
}

func TestAnExceptionSendsOneDrillUntilItsDay(t *testing.T) {
	d := wellAgain(t)
	if err := d.sendKick(t); !strings.Contains(problem(err, "drill"), "not for home") {
		t.Errorf("after the exception of last month: %v", err)
	}
	d.liveException(t)
	long := aDrill("d-kick")
	long.Until = date("2026-03-26")
	if err := d.SendHome(t.Context(), d.teacher, long); !strings.Contains(problem(err, "until"), "25 March") {
		t.Errorf("longer than the exception: %v", err)
	}
	if err := d.sendKick(t); err != nil {
		t.Fatal(err)
	}
	if _, _, detail := lastAudit(t, d.App); !strings.Contains(detail, "exception") {
		t.Errorf("the trail does not name the exception: %s", detail)
	}
	view, err := d.FamilyChildOf(t.Context(), d.parent, testkit.SampleID("c1a1"))
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range view.Drills {
		if h.Name != "Kick at the wall" {
			continue
		}
		if h.Exception == nil || h.Exception.Signed != d.teacher.Name || !h.Exception.TickedOn.Equal(date("2026-03-04")) || !h.Adult || h.Safe != "" {
			t.Errorf("the family reads %+v", h)
		}
		return
	}
	t.Errorf("the drill is not at home: %+v", view.Drills)
}

func (d *desk) kicksOut(t *testing.T) int {
	t.Helper()
	n := 0
	for _, g := range d.homework(t).Given {
		if g.Excepted && g.Active {
			n++
		}
	}
	return n
}

func TestWhatWasSentByAnExceptionEndsWithIt(t *testing.T) {
	for name, end := range map[string]func(*desk, uuid.UUID) error{
		"a teacher ends it": func(d *desk, id uuid.UUID) error {
			return d.EndException(context.Background(), d.teacher, testkit.SampleID("c1a1"), id)
		},
		"a guardian withdraws consent": func(d *desk, _ uuid.UUID) error {
			return d.AnswerConsent(context.Background(), d.parent, testkit.SampleID("c1a1"), studio.AdultDrills, false)
		},
	} {
		t.Run(name, func(t *testing.T) {
			d := wellAgain(t)
			id := d.liveException(t)
			if err := d.sendKick(t); err != nil {
				t.Fatal(err)
			}
			if n := d.kicksOut(t); n != 1 {
				t.Fatalf("%d out, want 1", n)
			}
			if err := end(d, id); err != nil {
				t.Fatal(err)
			}
			if n := d.kicksOut(t); n != 0 {
				t.Errorf("%d still out", n)
			}
			if err := d.AnswerConsent(t.Context(), d.parent, testkit.SampleID("c1a1"), studio.AdultDrills, true); err != nil {
				t.Fatal(err)
			}
			if err := d.sendKick(t); problem(err, "drill") == "" {
				t.Errorf("consent given anew brings the exception back: %v", err)
			}
		})
	}
}

func TestCareLimitsHoldOverExceptions(t *testing.T) {
	d := openDesk(t) // wrists to be spared
	d.liveException(t)
	if err := d.sendKick(t); !strings.Contains(problem(err, "drill"), "care limit") {
		t.Errorf("wrists to be spared: %v", err)
	}
	wantConstraint(t, "the database", d.sentBy(t, d.homework(t).Exceptions[0].ID, aDrill("d-kick")), "home_assignment_obeys_limits")
}

// sentBy writes an assignment on an exception past the engine, as the teacher.
func (d *desk) sentBy(t *testing.T, exception uuid.UUID, n NewHome) error {
	t.Helper()
	return d.db.InTx(t.Context(), d.teacher, func(tx *postgres.Tx) error {
		return tx.AssignHome(t.Context(), studio.HomeAssignment{ChildID: n.Child, DrillKey: n.Drill, Dose: n.Dose, FromOn: n.From, UntilOn: n.Until, Exception: &studio.HomeException{ID: exception}})
	})
}
