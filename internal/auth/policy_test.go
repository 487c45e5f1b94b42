package auth

import (
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// 15 characters, each code point counted once, no rules of composition: NIST SP 800-63B-4, section 3.1.1.2 (the code points as in
// its public draft, the 15 from memory).
func TestRefusalTakesAnyLongEnoughPassword(t *testing.T) {
	for _, password := range []string{
		"teapot gravel owl",
		"alllowercaseandnospacesbutmadeup",
		"Xk4!pQ9-zR2_mW7",
		"83651940275863194",
		"zażółć gęślą jaźń",
		"Thuyền lá ngược sông",
		"лестница из ясеня",
		"梯子の上で鳩が七羽眠っている夜",
		"horse rug melon staple",
		"my mother's fourth umbrella",
		"   spaces   are  welcome ",
		"football 839170264485917",
		strings.Repeat("owl gravel teapot ", 14)[:200] + "and something of its own",
	} {
		if why := Refusal(password, "mira@harbour.example"); why != "" {
			t.Errorf("Refusal(%q) = %q, want it taken", password, why)
		}
	}
}

func TestRefusalCountsCodePoints(t *testing.T) {
	fifteen := "teapot gravél o"
	if n := utf8.RuneCountInString(fifteen); n != MinCharacters {
		t.Fatalf("the example has %d characters", n)
	}
	for _, spelling := range []string{norm.NFC.String(fifteen), norm.NFD.String(fifteen)} {
		if why := Refusal(spelling, ""); why != "" {
			t.Errorf("Refusal(%+q) = %q, want it taken", spelling, why)
		}
		if short := strings.TrimSuffix(spelling, "o"); Refusal(short, "") == "" {
			t.Errorf("Refusal(%+q) took 14 characters", short)
		}
	}
}

// Each refusal by the words that the person reads. The kinds of weak password are common practice, no source.
func TestRefusal(t *testing.T) {
	const short, email, repeats, order, list, long, broken = "at least 15", "e-mail", "repeats", "order", "list", "at most 256", "whole"
	for _, c := range []struct{ password, want string }{
		{"", short},
		{"fourteen chars", short},
		{"mira.okafor@harbour.example", email},
		{"I am MIRA.OKAFOR@harbour.example today", email},
		{"mira.okafor 1234", email},
		{"my harbour.example", email},
		{"aaaaaaaaaaaaaaaaaaaa", repeats},
		{"ababababababababa", repeats},
		{"teapotgravelteapotgravel", repeats},
		{"gravelowgravelo", repeats},
		{"1212343412123434121", repeats},
		{"abcdefghijklmnopq", order},
		{"zyxwvutsrqponmlkj", order},
		{"12345678901234567", order},
		{"qwertyuiopasdfghjkl", order},
		{"1qaz2wsx3edc4rfv", order},
		{"aaabbbcccdddeeefff", order},
		{"correct horse battery staple", list},
		{"CorrectHorseBatteryStaple1!", list},
		{"c0rr3ct h0rs3 b4tt3ry st4pl3", list},
		{"Password2024!!!!", list},
		{"iloveyou-princess", list},
		{"P@ssw0rd Dragon Monkey", list},
		{"dance like nobody is watching", list},
		{"I love you so much!!", list},
		{"may.the.force.be.with.you", list},
		{strings.Repeat("teapot gravel owl ", 15), long},
		{strings.Repeat("é", 129) + "teapot gravel owl", long},
		{"teapot \xff gravel owl", broken},
	} {
		if why := Refusal(c.password, "Mira.Okafor@harbour.example"); !strings.Contains(why, c.want) {
			t.Errorf("Refusal(%.60q) = %q, want %q in it", c.password, why, c.want)
		}
	}
}

func TestRefusalWithoutAnEmail(t *testing.T) {
	for _, email := range []string{"", "@", "a@b", "no address"} {
		if why := Refusal("teapot gravel owl", email); why != "" {
			t.Errorf("Refusal with the address %q = %q, want it taken", email, why)
		}
	}
}

func TestEveryEntryOfTheListIsRefused(t *testing.T) {
	n, long := 0, 0
	for line := range strings.Lines(commonText) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "#") {
			continue
		}
		n++
		if !isCommon(line) {
			t.Errorf("%q is on the list and not found", line)
		}
		if utf8.RuneCountInString(line) >= MinCharacters {
			long++
			if Refusal(line, "") == "" {
				t.Errorf("%q is on the list and taken", line)
			}
		}
	}
	if long < 200 {
		t.Errorf("%d entries of %d have %d characters or more, want 200", long, n, MinCharacters)
	}
}

// Whatever is taken can be hashed and keeps its limits.
func FuzzRefusal(f *testing.F) {
	f.Add("teapot gravel owl", "mira@harbour.example")
	f.Add("\xff", "@")
	f.Add(strings.Repeat("\u0344", 300), "é@é")
	f.Fuzz(func(t *testing.T, password, email string) {
		if Refusal(password, email) != "" {
			return
		}
		secret, ok := prepare(password)
		if !ok || len(secret) > MaxBytes || utf8.RuneCount(secret) < MinCharacters {
			t.Fatalf("%q was taken with %d bytes, %d characters, usable %v", password, len(secret), utf8.RuneCount(secret), ok)
		}
	})
}
