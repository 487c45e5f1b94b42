package boot

import (
	"context"
	"errors"
	"fmt"
	"net/mail"
	"strings"
	"time"

	"github.com/google/uuid"
	gomail "github.com/wneessen/go-mail"
	"rungbook/internal/app"
)

// SMTP is where e-mail is handed over. Without a host the program sends none, and links are handed over by hand.
type SMTP struct {
	Host     string `env:"HOST"`
	Port     int    `env:"PORT" envDefault:"587"` // 465 speaks TLS from the first byte, any other port must offer STARTTLS
	User     string `env:"USER"`                  // none: no sign-in
	Password string `env:"PASSWORD"`
	From     string `env:"FROM"`  // such as "Our studio <office@studio.example>"
	Plain    bool   `env:"PLAIN"` // no TLS at all; for a relay on this computer only
}

const (
	implicitTLS = 465
	mailWithin  = 20 * time.Second
)

// mailer gives the function that sends a letter; nil when no host is set. A sender that cannot be read is refused at the start.
func mailer(s SMTP) (func(context.Context, app.Letter) error, error) {
	if s.Host == "" {
		return nil, nil
	}
	from, err := mail.ParseAddress(s.From)
	if err != nil {
		return nil, fmt.Errorf("RUNGBOOK_SMTP_FROM: %w", err)
	}
	_, domain, _ := strings.Cut(from.Address, "@")
	client, err := gomail.NewClient(s.Host, append(s.options(), gomail.WithHELO(domain), gomail.WithTimeout(mailWithin))...)
	if err != nil {
		return nil, fmt.Errorf("RUNGBOOK_SMTP_HOST: %w", err)
	}
	return func(ctx context.Context, letter app.Letter) error {
		if err := client.DialAndSendWithContext(ctx, envelope(from, domain, letter)); err != nil {
			return unsent(err)
		}
		return nil
	}, nil
}

// unsent says why a letter was not sent, by the reason and the server's code (RFC 5321, 4.2): its words repeat the address that
// the letter was for, and an error ends in a log.
func unsent(err error) error {
	if refused, ok := errors.AsType[*gomail.SendError](err); ok {
		return fmt.Errorf("send an e-mail: %s (%d)", refused.Reason, refused.ErrorCode())
	}
	return fmt.Errorf("send an e-mail: %w", err)
}

func (s SMTP) options() []gomail.Option {
	options := []gomail.Option{gomail.WithPort(s.Port)}
	switch {
	case s.Plain:
		options = append(options, gomail.WithTLSPolicy(gomail.NoTLS))
	case s.Port == implicitTLS:
		options = append(options, gomail.WithSSL())
	default:
		options = append(options, gomail.WithTLSPolicy(gomail.TLSMandatory))
	}
	if s.User != "" {
		options = append(options, gomail.WithSMTPAuth(gomail.SMTPAuthAutoDiscover), gomail.WithUsername(s.User), gomail.WithPassword(s.Password))
	}
	return options
}

// envelope writes the message. Its id and its program name say nothing about this computer.
func envelope(from *mail.Address, domain string, letter app.Letter) *gomail.Msg {
	message := gomail.NewMsg()
	message.FromMailAddress(from)
	message.ToMailAddress(&mail.Address{Name: letter.Name, Address: letter.To})
	message.Subject(letter.Subject)
	message.SetDate()
	message.SetMessageIDWithValue(uuid.NewString() + "@" + domain)
	message.SetUserAgent("Rungbook")
	message.SetBodyString(gomail.TypeTextPlain, letter.Text)
	return message
}
