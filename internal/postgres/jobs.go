package postgres

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
)

// jobsSchema holds the tables of the queue, which is riverqueue's. The queue is asked again and again instead of listened to, so that
// it holds no connection of its own.
const jobsSchema = "jobs"

// JobTimes bounds background work: a piece of it ends within Piece, and one that nobody has finished Rescue after its start, since the
// program was killed, is begun again. Rescue is longer than twice Piece.
type JobTimes struct{ Piece, Rescue time.Duration }

// DefaultJobTimes are those of the program.
func DefaultJobTimes() JobTimes { return JobTimes{Piece: 30 * time.Second, Rescue: 90 * time.Second} }

// BundleWork does a piece of the work on a bundle until the context ends, and reports whether more is left.
type BundleWork func(ctx context.Context, bundle uuid.UUID) (more bool, err error)

// bundleJob is what the queue keeps: an id.
type bundleJob struct {
	Bundle uuid.UUID `json:"bundle"`
}

// Kind names the job in the queue.
func (bundleJob) Kind() string { return "report_bundle" }

type bundleWorker struct {
	river.WorkerDefaults[bundleJob]
	piece time.Duration
	work  BundleWork
}

// Work does a piece and comes back for the next one at once, so that no job runs long and a killed one is soon found.
func (w *bundleWorker) Work(ctx context.Context, job *river.Job[bundleJob]) error {
	piece, cancel := context.WithTimeout(ctx, w.piece)
	defer cancel()
	more, err := w.work(piece, job.Args.Bundle)
	if err == nil && more {
		return river.JobSnooze(0)
	}
	return err
}

// never is a schedule without a time: the queue's indexes belong to the role that migrates.
type never struct{}

func (never) Next(now time.Time) time.Time { return now.AddDate(1000, 0, 0) }

// RunJobs works on queued bundles, one at a time, until the context ends; what is under way then goes on at the next start. Any number
// of programs may do so over one database.
func (db *DB) RunJobs(ctx context.Context, times JobTimes, log *slog.Logger, work BundleWork) error {
	workers := river.NewWorkers()
	river.AddWorker(workers, &bundleWorker{piece: times.Piece, work: work})
	client, err := river.NewClient(riverpgxv5.New(db.pool), &river.Config{
		Schema: jobsSchema, Workers: workers, Queues: map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: 1}},
		JobTimeout: 2 * times.Piece, RescueStuckJobsAfter: times.Rescue, PollOnly: true, ReindexerSchedule: never{}, Logger: log,
	})
	if err != nil {
		return fmt.Errorf("prepare background work: %w", err)
	}
	if err := client.Start(ctx); err != nil {
		return fmt.Errorf("start background work: %w", err)
	}
	<-ctx.Done()
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := client.StopAndCancel(stop); err != nil {
		return fmt.Errorf("stop background work: %w", err)
	}
	return nil
}

// queueBundle puts work on a bundle into the queue, within the transaction.
func (t *Tx) queueBundle(ctx context.Context, bundle uuid.UUID) error {
	client, err := river.NewClient(riverpgxv5.New(nil), &river.Config{Schema: jobsSchema})
	if err != nil {
		return fmt.Errorf("reach the queue: %w", err)
	}
	if _, err := client.InsertTx(ctx, queueTx{t.tx}, bundleJob{bundle}, nil); err != nil {
		return fmt.Errorf("queue the work: %w", err)
	}
	return nil
}

// queueTx is a transaction of ours as the queue's library wants it: it may read and write in it, and neither end nor nest it.
type queueTx struct{ *connection }

// connection is under another name, since a transaction has a method Conn.
type connection = pgxpool.Conn

var errNotOurs = errors.New("a queue neither begins nor ends a transaction")

func (queueTx) Begin(context.Context) (pgx.Tx, error) { return nil, errNotOurs }
func (queueTx) Commit(context.Context) error          { return errNotOurs }
func (queueTx) Rollback(context.Context) error        { return errNotOurs }
func (queueTx) LargeObjects() pgx.LargeObjects        { return pgx.LargeObjects{} }

func (queueTx) Prepare(context.Context, string, string) (*pgconn.StatementDescription, error) {
	return nil, errNotOurs
}
