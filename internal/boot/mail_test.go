package boot

import (
	"bufio"
	"fmt"
	"mime"
	"net"
	"net/mail"
	"strings"
	"testing"

	"rungbook/internal/app"
)

// relay is a mail server of the test's own: just enough of RFC 5321 to take messages, which come on the channel.
func relay(t *testing.T) (port int, taken chan string) { return relayThat(t, "250 ok") }

// relayThat answers so to whom a message is for; the answer repeats that line where it has a %s.
func relayThat(t *testing.T, answersRecipient string) (port int, taken chan string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { listener.Close() })
	taken = make(chan string, 16)
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			taken <- take(conn, answersRecipient)
			conn.Close()
		}
	}()
	return listener.Addr().(*net.TCPAddr).Port, taken
}

func take(conn net.Conn, answersRecipient string) string {
	var message strings.Builder
	lines, inData := bufio.NewScanner(conn), false
	fmt.Fprint(conn, "220 relay\r\n")
	for lines.Scan() {
		line := lines.Text()
		switch verb, _, _ := strings.Cut(strings.ToUpper(line), " "); {
		case inData && line == ".":
			inData = false
			fmt.Fprint(conn, "250 taken\r\n")
		case inData:
			message.WriteString(line + "\r\n")
		case verb == "DATA":
			inData = true
			fmt.Fprint(conn, "354 go on\r\n")
		case verb == "RCPT":
			fmt.Fprintln(conn, strings.ReplaceAll(answersRecipient, "%s", line)+"\r")
		case verb == "QUIT":
			fmt.Fprint(conn, "221 bye\r\n")
			return message.String()
		default:
			fmt.Fprint(conn, "250 ok\r\n")
		}
	}
	return message.String()
}

func TestLetterArrives(t *testing.T) {
	port, taken := relay(t)
	send, err := mailer(SMTP{Host: "127.0.0.1", Port: port, From: "Sample studio <office@studio.example>", Plain: true})
	if err != nil {
		t.Fatal(err)
	}
	letter := app.Letter{To: "nia@sample.example", Name: "Nia \"Ní\" Fell", Subject: "Your link\r\nBcc: everybody@sample.example", Text: "Héllo\n"}
	if err := send(t.Context(), letter); err != nil {
		t.Fatal(err)
	}
	message, err := mail.ReadMessage(strings.NewReader(<-taken)) // RFC 5322 as net/mail reads it
	if err != nil {
		t.Fatal(err)
	}
	to, err := message.Header.AddressList("To")
	if err != nil || len(to) != 1 || to[0].Address != letter.To || to[0].Name != letter.Name {
		t.Errorf("to %v, %v", to, err)
	}
	if message.Header.Get("Bcc") != "" {
		t.Error("a line end in the subject made a header")
	}
	if subject, err := new(mime.WordDecoder).DecodeHeader(message.Header.Get("Subject")); err != nil || !strings.HasPrefix(subject, "Your link") {
		t.Errorf("subject %q, %v", subject, err)
	}
	if id := message.Header.Get("Message-Id"); !strings.HasSuffix(id, "@studio.example>") {
		t.Errorf("the id %q names this computer", id)
	}
}

func TestMailIsLeftOutOrRefused(t *testing.T) {
	if send, err := mailer(SMTP{}); send != nil || err != nil {
		t.Errorf("without a host: %v", err)
	}
	if _, err := mailer(SMTP{Host: "mail.example", Port: 587, From: "nobody"}); err == nil {
		t.Error("a sender that is no address is taken")
	}
	port, _ := relay(t) // offers no STARTTLS
	send, err := mailer(SMTP{Host: "127.0.0.1", Port: port, From: "office@studio.example"})
	if err != nil {
		t.Fatal(err)
	}
	if err := send(t.Context(), app.Letter{To: "a@b.example", Subject: "S", Text: "T"}); err == nil {
		t.Error("a letter with a secret went out in the clear")
	}
}
