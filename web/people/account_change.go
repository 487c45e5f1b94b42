package people

import (
	"net/http"
	"slices"

	"github.com/google/uuid"
	"rungbook/internal/studio"
	"rungbook/web/kit"
)

// onAccount runs a change of the account in the path.
func (h *Handler) onAccount(w http.ResponseWriter, r *http.Request, sentence string, what func(account uuid.UUID, f *kit.Reader) error) error {
	id, err := kit.ID(r, "account")
	if err != nil {
		return err
	}
	var reader *kit.Reader
	return h.submit(w, r, func(f *kit.Reader) { reader = f }, func() (done, error) {
		if err := what(id, reader); err != nil {
			return done{}, err
		}
		return done{sentence, accountURL(id)}, reader.Err()
	}, func(f form) error { return h.personPage(w, r, f) })
}

// SetRoles changes the roles of an account.
func (h *Handler) SetRoles(w http.ResponseWriter, r *http.Request) error {
	return h.onAccount(w, r, "The roles are saved. They count from the next page that this person opens.", func(id uuid.UUID, f *kit.Reader) error {
		return h.app.SetRoles(r.Context(), kit.Actor(r), id, roles(f.Values["roles"]))
	})
}

// Lock locks an account out.
func (h *Handler) Lock(w http.ResponseWriter, r *http.Request) error {
	return h.onAccount(w, r, "The account is locked. Whatever it wrote stays.", func(id uuid.UUID, _ *kit.Reader) error {
		return h.app.DisableAccount(r.Context(), kit.Actor(r), id)
	})
}

// Unlock lets an account in again.
func (h *Handler) Unlock(w http.ResponseWriter, r *http.Request) error {
	return h.onAccount(w, r, "The account can sign in again.", func(id uuid.UUID, _ *kit.Reader) error {
		return h.app.EnableAccount(r.Context(), kit.Actor(r), id)
	})
}

// LinkStaff gives an account a staff record, or takes it away.
func (h *Handler) LinkStaff(w http.ResponseWriter, r *http.Request) error {
	return h.onAccount(w, r, "The staff record is saved.", func(id uuid.UUID, f *kit.Reader) error {
		return h.app.LinkStaff(r.Context(), kit.Actor(r), id, chosen(f, "staff"))
	})
}

// AddGuardian makes an account a guardian of a child.
func (h *Handler) AddGuardian(w http.ResponseWriter, r *http.Request) error {
	return h.onAccount(w, r, "The child is added.", func(id uuid.UUID, f *kit.Reader) error {
		child, relation := chosen(f, "child"), f.Text("relation", 40, false)
		if child == uuid.Nil {
			f.Refuse("child", "Choose a child.")
		}
		if err := f.Err(); err != nil {
			return err
		}
		return h.app.AddGuardian(r.Context(), kit.Actor(r), id, child, relation)
	})
}

// RemoveGuardian ends it.
func (h *Handler) RemoveGuardian(w http.ResponseWriter, r *http.Request) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	return h.onAccount(w, r, "This person sees nothing of the child from now on.", func(id uuid.UUID, _ *kit.Reader) error {
		return h.app.RemoveGuardian(r.Context(), kit.Actor(r), id, child)
	})
}

// SetGuardianRights says what a guardian may beside seeing the child.
func (h *Handler) SetGuardianRights(w http.ResponseWriter, r *http.Request) error {
	child, err := kit.ID(r, "child")
	if err != nil {
		return err
	}
	return h.onAccount(w, r, "Saved. It holds from this person's next page on.", func(id uuid.UUID, f *kit.Reader) error {
		var rights []studio.GuardianRight
		for _, c := range guardianRights() {
			if slices.Contains(f.Values["rights"], c.Value) {
				rights = append(rights, studio.GuardianRight(c.Value))
			}
		}
		return h.app.SetGuardianRights(r.Context(), kit.Actor(r), id, child, rights)
	})
}

// guardianRights are what a guardian may beside seeing the child.
func guardianRights() []kit.Choice {
	return []kit.Choice{
		{Value: string(studio.RightToReport), Label: "Report that something hurts", Hint: "A report stops that kind of work at once, until a teacher has looked."},
		{Value: string(studio.RightToRead), Label: "Read term reports"},
		{Value: string(studio.RightToInvite), Label: "Invite further guardians", Hint: "And take away again whom they let in, nobody else."},
	}
}

func rightWords(rights []studio.GuardianRight) []string {
	var words []string
	for _, r := range rights {
		words = append(words, string(r))
	}
	return words
}

// chosen is the id chosen in a list; uuid.Nil when none was.
func chosen(f *kit.Reader, field string) uuid.UUID {
	text := f.Values.Get(field)
	if text == "" {
		return uuid.Nil
	}
	id, err := uuid.Parse(text)
	if err != nil {
		f.Refuse(field, "Choose one of those offered.")
	}
	return id
}

// ResetLink makes a link for a new passphrase and shows it once.
func (h *Handler) ResetLink(w http.ResponseWriter, r *http.Request) error {
	id, err := kit.ID(r, "account")
	if err != nil {
		return err
	}
	if _, err := kit.Form(w, r); err != nil {
		return err
	}
	link, err := h.app.ResetLink(r.Context(), kit.Actor(r), id)
	if err != nil {
		return err
	}
	return h.linkPage(w, r, link, "Link for a new passphrase")
}
