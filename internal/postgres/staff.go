package postgres

import (
	"context"

	"github.com/google/uuid"
	"rungbook/internal/studio"
)

const staffSQL = `select s.id, s.account_id, s.name, s.trainee, s.can_lead, s.left_on, d.birth_date, d.phone
	from staff s join staff_detail d on d.staff_id = s.id `

// StaffDetails lists everybody who takes or helps at classes by name, those who have left last.
func (t *Tx) StaffDetails(ctx context.Context) ([]studio.StaffDetail, error) {
	return many[studio.StaffDetail](ctx, t, staffSQL+`order by s.left_on is not null and s.left_on <= $1, lower(s.name), s.id`, t.Today)
}

// StaffDetail is one of them.
func (t *Tx) StaffDetail(ctx context.Context, id uuid.UUID) (studio.StaffDetail, error) {
	return one[studio.StaffDetail](ctx, t, staffSQL+`where s.id = $1`, id)
}

// StaffOfAccount is the staff record of an account; studio.Missing when it has none.
func (t *Tx) StaffOfAccount(ctx context.Context, account uuid.UUID) (studio.Staff, error) {
	return one[studio.Staff](ctx, t, `select id, account_id, name, trainee, can_lead, left_on from staff where account_id = $1`, account)
}

// AddStaff writes a new record and returns its id.
func (t *Tx) AddStaff(ctx context.Context, s studio.StaffDetail) (uuid.UUID, error) {
	id, err := value[uuid.UUID](ctx, t, `insert into staff (account_id, name, trainee, can_lead, left_on) values ($1, $2, $3, $4, $5) returning id`,
		s.AccountID, s.Name, s.Trainee, s.CanLead, s.LeftOn)
	if err != nil {
		return id, err
	}
	return id, exec(ctx, t, `insert into staff_detail (staff_id, birth_date, phone) values ($1, $2, $3)`, id, s.BirthDate, s.Phone)
}

// SaveStaff changes a record; the account that it belongs to stays, see LinkStaff.
func (t *Tx) SaveStaff(ctx context.Context, s studio.StaffDetail) error {
	if err := exec(ctx, t, `update staff set name = $2, trainee = $3, can_lead = $4, left_on = $5 where id = $1`,
		s.ID, s.Name, s.Trainee, s.CanLead, s.LeftOn); err != nil {
		return err
	}
	return exec(ctx, t, `update staff_detail set birth_date = $2, phone = $3 where staff_id = $1`, s.ID, s.BirthDate, s.Phone)
}

// LinkStaff makes an account the one of a staff record, and of no other record.
func (t *Tx) LinkStaff(ctx context.Context, staff, account uuid.UUID) error {
	if err := t.UnlinkStaff(ctx, account); err != nil {
		return err
	}
	return exec(ctx, t, `update staff set account_id = $2 where id = $1`, staff, account)
}

// UnlinkStaff takes an account off whatever staff record it belongs to.
func (t *Tx) UnlinkStaff(ctx context.Context, account uuid.UUID) error {
	_, err := t.tx.Exec(ctx, `update staff set account_id = null where account_id = $1`, account)
	return err
}
