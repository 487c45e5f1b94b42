package app

import (
	"context"
	"sync"
	"time"

	"rungbook/internal/postgres"
	"rungbook/internal/studio"
	"rungbook/internal/words"
)

// Guesses at one account's passphrase: ten in a quarter of an hour, then wait; there is no permanent lock-out.
const (
	guesses       = 10
	guessesWithin = 15 * time.Minute
)

// counting runs a try at a secret of an address, or of what else is guessed at. While it is under way it counts as wrong, so that of many
// at once none slips by; an error other than studio.Invalid is no guess.
func (a *App) counting(ctx context.Context, at string, try func() error) error {
	before, leave := a.tries.enter(at)
	defer leave()
	if err := a.mayGuess(ctx, at, before); err != nil {
		return err
	}
	tried := try()
	if tried != nil && studio.CodeOf(tried) != studio.Invalid {
		return tried
	}
	err := a.db.InTx(context.WithoutCancel(ctx), studio.ProgramActor(), func(t *postgres.Tx) error { return t.NoteSignIn(ctx, at, tried == nil) })
	if tried != nil {
		return tried
	}
	return err
}

// mayGuess refuses when there were too many failures, with so many more tries under way.
func (a *App) mayGuess(ctx context.Context, at string, underWay int) error {
	return a.db.InTx(ctx, studio.ProgramActor(), func(t *postgres.Tx) error { return fewFailures(ctx, t, at, underWay) })
}

func fewFailures(ctx context.Context, t *postgres.Tx, at string, underWay int) error {
	failed, err := t.FailedSignIns(ctx, at, t.Now.Add(-guessesWithin))
	if err == nil && failed+underWay >= guesses {
		err = &studio.Error{Code: studio.TooMany, Text: words.Of(ctx).Say("sign-in.too-many")}
	}
	return err
}

// stillGuessing refuses when there were too many failures, and lets one try at a time go on until the transaction ends.
func stillGuessing(ctx context.Context, t *postgres.Tx, at string) error {
	if err := t.LockGuesses(ctx, at); err != nil {
		return err
	}
	return fewFailures(ctx, t, at, 0)
}

// tries are those under way in this copy of the program, by what is guessed at. They end with it: a copy that is killed in the midst of
// many leaves none behind that would keep their owners out.
type tries struct {
	mu  sync.Mutex
	now map[string]int
}

// enter says how many tries were under way before this one; leave it after its outcome is written.
func (c *tries) enter(at string) (before int, leave func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.now == nil {
		c.now = map[string]int{}
	}
	before = c.now[at]
	c.now[at]++
	return before, func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		if c.now[at]--; c.now[at] == 0 {
			delete(c.now, at)
		}
	}
}

// once is what a form says that asks for the passphrase once more: the field and the words of a refusal.
type once struct{ field, refusal, problem string }

// again asks for the actor's passphrase once more, before what cannot be taken back and before the transaction has written anything.
func (a *App) again(ctx context.Context, t *postgres.Tx, passphrase, refusal string) error {
	return a.proven(ctx, t, passphrase, once{"passphrase", refusal, words.Of(ctx).Say("passphrase.not-yours")})
}

// prove is again for an action on one's own account, in a transaction of its own.
func (a *App) prove(ctx context.Context, actor studio.Actor, action studio.Action, passphrase string) error {
	return a.within(ctx, actor, action, func(t *postgres.Tx) error {
		b := words.Of(ctx)
		return a.proven(ctx, t, passphrase, once{"present", b.Say("passphrase.nothing-changed"), b.Say("passphrase.not-present")})
	})
}

// proven refuses unless the passphrase is the actor's own. Wrong ones count as guesses, like those at signing in: the transaction, which
// must have written nothing yet, then ends with the count.
func (a *App) proven(ctx context.Context, t *postgres.Tx, passphrase string, o once) error {
	stored, err := t.PasswordHash(ctx, t.Actor.ID)
	if err != nil {
		return err
	}
	if err := t.AsProgram(ctx, func() error { return stillGuessing(ctx, t, t.Actor.Email) }); err != nil {
		return err
	}
	match, _, err := a.hasher.Verify(ctx, passphrase, stored)
	if err != nil || match {
		return err
	}
	if err := t.AsProgram(ctx, func() error { return t.NoteSignIn(ctx, t.Actor.Email, false) }); err != nil {
		return err
	}
	if err := t.Keep(ctx); err != nil {
		return err
	}
	return studio.Refuse(o.refusal, []studio.FieldError{{Field: o.field, Problem: o.problem}})
}
