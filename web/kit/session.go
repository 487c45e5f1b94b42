package kit

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"net/http"

	"github.com/google/uuid"
	"github.com/gorilla/sessions"
	"rungbook/internal/studio"
)

// Record is what is kept of a session: the account (nil before sign-in), the kind of browser in words, and its JSON.
type Record struct {
	Account *uuid.UUID
	Browser string
	Data    []byte
	New     bool // it was not there before; one that was and is no more has ended, and stays ended
}

// SessionStore is a gorilla/sessions Store over the studio's database. The cookie carries a random id of 256 bits; the database
// keeps its SHA-256 only. Load returns studio.Missing for an unknown or ended session.
type SessionStore struct {
	Load   func(ctx context.Context, hash []byte) (Record, studio.Actor, error)
	Keep   func(ctx context.Context, hash []byte, r Record) error
	End    func(ctx context.Context, hash []byte) error
	Secure bool // off only on plain-HTTP localhost: the demo
}

const (
	accountValue = "account"
	noticeValue  = "notice"
)

// CookieName is the name of the session cookie; browsers bind the __Host- one to this host and to TLS.
func (s *SessionStore) CookieName() string {
	if s.Secure {
		return "__Host-rungbook"
	}
	return "rungbook"
}

// Get returns the request's session, from the registry when it has been read already.
func (s *SessionStore) Get(r *http.Request, name string) (*sessions.Session, error) {
	return sessions.GetRegistry(r).Get(s, name)
}

// New reads the session of the cookie with the actor that it belongs to, or makes an empty one.
func (s *SessionStore) New(r *http.Request, name string) (*sessions.Session, error) {
	session := sessions.NewSession(s, name)
	session.IsNew = true
	session.Options = &sessions.Options{Path: "/", HttpOnly: true, Secure: s.Secure, SameSite: http.SameSiteLaxMode, MaxAge: 14 * 24 * 3600}
	cookie, err := r.Cookie(name)
	if err != nil {
		return session, nil
	}
	record, actor, err := s.Load(r.Context(), hashOf(cookie.Value))
	if studio.CodeOf(err) == studio.NotFound {
		return session, nil
	}
	values := map[string]string{}
	if err == nil {
		err = json.Unmarshal(record.Data, &values)
	}
	if err != nil {
		return session, fmt.Errorf("read the session: %w", err)
	}
	for k, v := range values {
		session.Values[k] = v
	}
	session.ID, session.IsNew = cookie.Value, false
	session.Values[actorKey{}] = actor
	if record.Account != nil {
		session.Values[accountValue] = record.Account.String()
	}
	return session, nil
}

// Save writes the session and its cookie. A session whose MaxAge is below zero ends.
func (s *SessionStore) Save(r *http.Request, w http.ResponseWriter, session *sessions.Session) error {
	if session.Options.MaxAge < 0 {
		http.SetCookie(w, sessions.NewCookie(session.Name(), "", session.Options))
		if session.ID == "" {
			return nil
		}
		return s.End(r.Context(), hashOf(session.ID))
	}
	isNew := session.ID == ""
	if isNew {
		session.ID = newID()
	}
	record, err := recordOf(session)
	if err != nil {
		return err
	}
	record.New, record.Browser = isNew, browserOf(r.UserAgent())
	if err := s.Keep(r.Context(), hashOf(session.ID), record); err != nil {
		return fmt.Errorf("keep the session: %w", err)
	}
	http.SetCookie(w, sessions.NewCookie(session.Name(), session.ID, session.Options))
	return nil
}

func recordOf(session *sessions.Session) (Record, error) {
	var record Record
	values := map[string]string{}
	for k, v := range session.Values {
		key, isKey := k.(string)
		text, isText := v.(string)
		if !isKey || !isText {
			continue // the actor, which is found anew on each request
		}
		if key == accountValue {
			id, err := uuid.Parse(text)
			if err != nil {
				return record, fmt.Errorf("session account: %w", err)
			}
			record.Account = &id
			continue
		}
		values[key] = text
	}
	var err error
	record.Data, err = json.Marshal(values)
	return record, err
}

func newID() string {
	b := make([]byte, 32)
	rand.Read(b) // never fails, as crypto/rand documents
	return base64.RawURLEncoding.EncodeToString(b)
}

func hashOf(id string) []byte {
	sum := sha256.Sum256([]byte(id))
	return sum[:]
}

// SignIn gives the browser a session of the account under a new id; a session that it had before ends.
func (k *Kit) SignIn(w http.ResponseWriter, r *http.Request, account uuid.UUID) error {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil {
		return err
	}
	if session.ID != "" {
		if err := k.Sessions.End(r.Context(), hashOf(session.ID)); err != nil {
			return err
		}
	}
	session.ID = ""
	for _, name := range []string{PendingValue, ChallengeValue} {
		delete(session.Values, name)
	}
	session.Values[accountValue] = account.String()
	return session.Save(r, w)
}

// What a session may hold between two requests of signing in.
const (
	PendingValue   = "pending"   // whose passphrase was shown, while a code is still asked for
	ChallengeValue = "challenge" // what a passkey has to answer
)

// Hold keeps a value in the browser's session, signed in or not; "" forgets it.
func (k *Kit) Hold(w http.ResponseWriter, r *http.Request, name, value string) error {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil {
		return err
	}
	if session.Values[name] = value; value == "" {
		delete(session.Values, name)
	}
	return session.Save(r, w)
}

// Held is a value that Hold kept, or "".
func (k *Kit) Held(r *http.Request, name string) (string, error) {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil {
		return "", err
	}
	value, _ := session.Values[name].(string)
	return value, nil
}

// SessionHash is what the browser's session is known by in the list of one's browsers: the SHA-256 of its id; nil when it has none.
func (k *Kit) SessionHash(r *http.Request) ([]byte, error) {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil || session.ID == "" {
		return nil, err
	}
	return hashOf(session.ID), nil
}

// SignOut ends the browser's session.
func (k *Kit) SignOut(w http.ResponseWriter, r *http.Request) error {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil {
		return err
	}
	session.Options.MaxAge = -1
	return session.Save(r, w)
}

// Identify finds out who asks and puts it into the request.
func (k *Kit) Identify(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		session, err := k.Sessions.Get(r, k.Sessions.CookieName())
		if err != nil {
			k.Fail(w, r, err)
			return
		}
		actor, _ := session.Values[actorKey{}].(studio.Actor)
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), actorKey{}, actor)))
	})
}

// Tell keeps a sentence for the next page that the browser shows.
func (k *Kit) Tell(w http.ResponseWriter, r *http.Request, sentence string) error {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil {
		return err
	}
	session.Values[noticeValue] = sentence
	return session.Save(r, w)
}

// told takes the sentence that Tell kept.
func (k *Kit) told(w http.ResponseWriter, r *http.Request) (string, error) {
	session, err := k.Sessions.Get(r, k.Sessions.CookieName())
	if err != nil {
		return "", err
	}
	sentence, _ := session.Values[noticeValue].(string)
	if sentence == "" {
		return "", nil
	}
	delete(session.Values, noticeValue)
	return sentence, session.Save(r, w)
}

// Done tells a sentence and sends the browser to a page: the end of every form that worked.
func (k *Kit) Done(w http.ResponseWriter, r *http.Request, sentence, to string) error {
	if err := k.Tell(w, r, sentence); err != nil {
		return err
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}
