package e2e

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// faultPlan is how much the fault test asks. RUNGBOOK_FAULT_MARKS=100000 asks for the long one, RUNGBOOK_FAULT_SEED for the same faults
// again: what every tablet notes, which request meets which fault and after how many marks what is killed follow from the seed; only
// how the machine's processes take turns does not.
type faultPlan struct {
	seed                             uint64
	tablets, marks                   int
	programKills, databaseKills, out int // out: how often everybody is signed out
}

func readFaultPlan(t *testing.T) faultPlan {
	t.Helper()
	p := faultPlan{seed: uint64(time.Now().UnixNano()), tablets: 20, marks: 20_000}
	if text := os.Getenv("RUNGBOOK_FAULT_MARKS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatal(err)
		}
		p.marks = n
	}
	if text := os.Getenv("RUNGBOOK_FAULT_SEED"); text != "" {
		n, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		p.seed = n
	}
	p.programKills, p.databaseKills, p.out = p.marks/1000, p.marks/4000, 3
	if p.marks >= 100_000 {
		p.programKills, p.databaseKills = 200, 50
	}
	return p
}

// What tablets note survives a bad network and kill -9 of the program and of PostgreSQL: none lost, none doubled, none altered, none
// acknowledged and absent. A killed process loses what it holds in memory; a machine that loses power, or a full disk, is not tried.
func TestMarksSurviveFaults(t *testing.T) {
	plan := readFaultPlan(t)
	t.Logf("RUNGBOOK_FAULT_SEED=%d RUNGBOOK_FAULT_MARKS=%d", plan.seed, plan.marks)
	h := openShakyHouse(t)
	line := newBadLine(t, plan.seed, h.url)
	soaks := h.tablets(t, plan, line.url)
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Minute)
	defer cancel()

	begun := time.Now()
	running := runAll(ctx, soaks)
	h.shake(ctx, t, plan, soaks)
	line.calm.Store(true)
	calm := time.Now()
	h.waitFor(t, running, calm)
	t.Logf("%d items in %.1f s, the last %.1f s after the faults ended; %d program kills, %d database kills, %d requests tried again; faults: %v",
		items(soaks), time.Since(begun).Seconds(), time.Since(calm).Seconds(), plan.programKills, plan.databaseKills, retries(soaks), line)
	h.hold(ctx, t, soaks)
}

// tablets makes the tablets: two in three a teacher's, the others an assistant's.
func (h *shakyHouse) tablets(t *testing.T, plan faultPlan, line string) []*soak {
	t.Helper()
	teacher, assistant := h.demo.as(t, teacherName), h.demo.as(t, assistantName)
	var room classroom
	err := h.ask(t.Context(), func(c *pgx.Conn) (err error) {
		room, err = readClassroom(t.Context(), c, teacher.email)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var soaks []*soak
	for n := range plan.tablets {
		who := teacher
		if n%3 == 2 {
			who = assistant
		}
		s, err := newSoak(plan.seed, n, who, line, room, (plan.marks+plan.tablets-1)/plan.tablets)
		if err != nil {
			t.Fatal(err)
		}
		soaks = append(soaks, s)
	}
	return soaks
}

// readClassroom reads the lesson that the teacher takes now, its children, and every rung with its faults.
func readClassroom(ctx context.Context, c *pgx.Conn, teacher string) (classroom, error) {
	var room classroom
	err := c.QueryRow(ctx, `select l.id::text, array(select e.child_id::text from enrolment e where e.class_id = l.class_id order by 1)
		from lesson l join class_staff cs on cs.class_id = l.class_id join staff s on s.id = cs.staff_id join account a on a.id = s.account_id
		where a.email = $1 and l.cancelled_at is null order by abs(extract(epoch from l.starts_at - now())) limit 1`, teacher).Scan(&room.Lesson, &room.Children)
	if err != nil {
		return room, fmt.Errorf("find the lesson: %w", err)
	}
	rows, err := c.Query(ctx, `select r.key, r.two_sided as sided, array(select f.key from fault f where f.rung_key = r.key order by 1) as faults from rung r order by 1`)
	if err != nil {
		return room, err
	}
	room.Rungs, err = pgx.CollectRows(rows, pgx.RowToStructByName[roomRung])
	return room, err
}

func runAll(ctx context.Context, soaks []*soak) <-chan error {
	ended := make(chan error, len(soaks))
	var all sync.WaitGroup
	for _, s := range soaks {
		all.Go(func() { ended <- s.run(ctx) })
	}
	go func() { all.Wait(); close(ended) }()
	return ended
}

// shake kills and signs out, spread over what is to be noted, and looks after each kill whether all that was acknowledged is there.
func (h *shakyHouse) shake(ctx context.Context, t *testing.T, plan faultPlan, soaks []*soak) {
	t.Helper()
	var deeds []func() error
	for range plan.programKills {
		deeds = append(deeds, func() error { h.killProgram(); return h.startProgram(ctx) })
	}
	for range plan.databaseKills {
		deeds = append(deeds, func() error {
			if err := h.killDatabase(); err != nil {
				return err
			}
			return h.startDatabase(ctx)
		})
	}
	for range plan.out {
		deeds = append(deeds, func() error {
			return h.ask(ctx, func(c *pgx.Conn) error { _, err := c.Exec(ctx, `delete from session`); return err })
		})
	}
	random := rand.New(rand.NewPCG(plan.seed, 1))
	random.Shuffle(len(deeds), func(i, j int) { deeds[i], deeds[j] = deeds[j], deeds[i] })
	for i, deed := range deeds {
		for after := plan.marks * (i + 1) / (len(deeds) + 2); acknowledged(soaks) < after; {
			if ctx.Err() != nil {
				t.Fatal(ctx.Err())
			}
			time.Sleep(5 * time.Millisecond)
		}
		time.Sleep(time.Duration(random.IntN(30)) * time.Millisecond)
		if err := deed(); err != nil {
			t.Fatal(err)
		}
		h.holdAcknowledged(ctx, t, soaks)
	}
}

// holdAcknowledged fails when an item that was acknowledged before is not in the database.
func (h *shakyHouse) holdAcknowledged(ctx context.Context, t *testing.T, soaks []*soak) {
	t.Helper()
	var ids []string
	for _, s := range soaks {
		ids = append(ids, s.acknowledged()...)
	}
	err := h.ask(ctx, func(c *pgx.Conn) error {
		var there int
		if err := c.QueryRow(ctx, `select count(distinct id) from sheet_item where id = any($1::uuid[])`, ids).Scan(&there); err != nil {
			return err
		}
		if there != len(ids) {
			return fmt.Errorf("%d items were acknowledged, and %d are there", len(ids), there)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// waitFor waits until every outbox is empty, a minute after the faults ended at the latest.
func (h *shakyHouse) waitFor(t *testing.T, running <-chan error, calm time.Time) {
	t.Helper()
	patience := time.After(time.Minute)
	for {
		select {
		case err, more := <-running:
			if !more {
				return
			}
			if err != nil {
				t.Fatal(err)
			}
		case <-patience:
			t.Fatalf("outboxes are not empty %.0f s after the faults ended", time.Since(calm).Seconds())
		}
	}
}

// hold compares the database with the journals.
func (h *shakyHouse) hold(ctx context.Context, t *testing.T, soaks []*soak) {
	t.Helper()
	err := h.ask(ctx, func(c *pgx.Conn) error {
		rows, err := readKept(ctx, c)
		if err != nil {
			return err
		}
		v := judge(journals(soaks), rows, "stored")
		t.Log(v)
		if v.lost+v.doubled+v.altered+v.absent+v.foreign > 0 {
			t.Errorf("%v, such as %q", v, v.first)
		}
		return holdReceipts(ctx, c, soaks)
	})
	if err != nil {
		t.Fatal(err)
	}
}

// holdReceipts fails when an answer that reached a tablet has no receipt of its own, or notes were lost or doubled.
func holdReceipts(ctx context.Context, c *pgx.Conn, soaks []*soak) error {
	var receipts []string
	notes := 0
	for _, s := range soaks {
		receipts = append(receipts, s.receipts...)
		for _, e := range s.journal {
			if e.Kind == "note" {
				notes++
			}
		}
	}
	slices.Sort(receipts)
	own := len(slices.Compact(receipts))
	var there, written int
	if err := c.QueryRow(ctx, `select (select count(*) from sheet_receipt where id = any($1::uuid[])), (select count(*) from sheet_note where note like 'Note %')`, receipts).Scan(&there, &written); err != nil {
		return err
	}
	if there != own || written != notes {
		return fmt.Errorf("%d of %d receipts and %d of %d notes are there", there, own, written, notes)
	}
	return nil
}

func journals(soaks []*soak) [][]*entry {
	var all [][]*entry
	for _, s := range soaks {
		all = append(all, s.journal)
	}
	return all
}

func acknowledged(soaks []*soak) int {
	n := 0
	for _, s := range soaks {
		n += len(s.acknowledged())
	}
	return n
}

func items(soaks []*soak) int {
	n := 0
	for _, s := range soaks {
		n += len(s.journal)
	}
	return n
}

func retries(soaks []*soak) int {
	n := 0
	for _, s := range soaks {
		n += s.retries
	}
	return n
}
