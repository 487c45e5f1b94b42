package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"rungbook/internal/engine/standing"
	"rungbook/internal/postgres"
	"rungbook/internal/studio"
)

// ladders is the library with its graph and ways to look things up.
type ladders struct {
	studio.Library
	graph    *standing.Graph
	rungs    map[string]studio.Rung
	drills   map[string]studio.Drill
	ladder   map[string]studio.Ladder // by ladder key
	of       map[string]string        // ladder key by rung key
	settings studio.Settings          // those of the transaction
}

// readLadders loads the library of the transaction.
func readLadders(ctx context.Context, t *postgres.Tx) (*ladders, error) {
	library, err := t.Library(ctx)
	if err != nil {
		return nil, fmt.Errorf("read the library: %w", err)
	}
	return laddersOf(library, t)
}

// laddersOf indexes a library, with the studio's settings.
func laddersOf(library studio.Library, t *postgres.Tx) (*ladders, error) {
	l, err := newLadders(library)
	if err == nil {
		l.settings = t.Settings
	}
	return l, err
}

// newLadders indexes a library. Prerequisites in a circle, or that are no rung, are refused with their names.
func newLadders(library studio.Library) (*ladders, error) {
	graph, err := standing.New(graphRungs(library))
	var circle *standing.CycleError
	if errors.As(err, &circle) {
		return nil, studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "needs", Problem: circleInWords(circle)}})
	}
	if err != nil {
		return nil, studio.Refuse("Nothing was saved.", []studio.FieldError{{Field: "needs", Problem: err.Error()}})
	}
	l := &ladders{Library: library, graph: graph, rungs: map[string]studio.Rung{}, drills: map[string]studio.Drill{},
		ladder: map[string]studio.Ladder{}, of: map[string]string{}, settings: studio.DefaultSettings()}
	for _, ladder := range library.Ladders {
		l.ladder[ladder.Key] = ladder
		for _, r := range ladder.Rungs {
			l.rungs[r.Key], l.of[r.Key] = r, ladder.Key
		}
	}
	for _, d := range library.Drills {
		l.drills[d.Key] = d
	}
	return l, nil
}

func circleInWords(e *standing.CycleError) string {
	names := append(slices.Clone(e.Names), e.Names[0])
	return "These rungs would need each other in a circle: “" + strings.Join(names, "” needs “") + "”. Take one of these needs away."
}

func graphRungs(library studio.Library) []standing.Rung {
	var rungs []standing.Rung
	for _, ladder := range library.Ladders {
		for i, r := range ladder.Rungs {
			rungs = append(rungs, standing.Rung{ID: r.Key, Name: r.Name, Needs: r.Needs, TwoSided: r.TwoSided, Ladder: ladder.Key, Position: i + 1})
		}
	}
	return rungs
}

// boards works out where children stand on every rung, from one read of their marks.
func (l *ladders) boards(ctx context.Context, t *postgres.Tx, children []uuid.UUID) (map[uuid.UUID]standing.Board, error) {
	marks, err := t.MarksOf(ctx, children)
	if err != nil {
		return nil, fmt.Errorf("read the marks: %w", err)
	}
	return l.boardsOf(children, marks, t)
}

func (l *ladders) boardsOf(children []uuid.UUID, marks []postgres.SeenMark, t *postgres.Tx) (map[uuid.UUID]standing.Board, error) {
	byChild := map[uuid.UUID][]standing.Mark{}
	for _, m := range marks {
		byChild[m.ChildID] = append(byChild[m.ChildID], standingMark(m))
	}
	boards := map[uuid.UUID]standing.Board{}
	for _, child := range children {
		board, err := l.graph.Board(byChild[child], judging(t.Settings), t.Today)
		if err != nil {
			return nil, fmt.Errorf("work out where a child stands: %w", err)
		}
		boards[child] = board
	}
	return boards, nil
}

// judging are the studio's settings of the secure rule and of memory, as the engine reads them.
func judging(s studio.Settings) standing.Settings {
	judged := standing.Defaults()
	judged.Rule = standing.Rule{Clean: s.Secure.Clean, Window: s.Secure.Window, Lessons: s.Secure.Lessons}
	judged.Memory = standing.Memory{First: s.Memory.First, Growth: s.Memory.Growth, Most: s.Memory.Most, Gap: s.Memory.Gap, Recheck: s.Memory.Recheck}
	return judged
}

func standingMark(m postgres.SeenMark) standing.Mark {
	s := standing.Mark{RungID: m.RungKey, At: m.MarkedAt, Outcome: standing.Outcome(m.Outcome), SafetyFault: m.SafetyFault, By: m.MarkedByName}
	if m.LessonID != nil {
		s.Lesson = m.LessonID.String()
	}
	if m.Side != studio.NoSide {
		s.Side = standing.Side(m.Side)
	}
	return s
}
