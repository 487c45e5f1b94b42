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

// The kinds of weak password are common practice, no source.
func TestRefusal(t *testing.T) {
	for _, c := range []struct {
		password string
		want     Flaw
	}{
		{"", TooShort},
		{"fourteen chars", TooShort},
		{"mira.okafor@harbour.example", HoldsEmail},
		{"I am MIRA.OKAFOR@harbour.example today", HoldsEmail},
		{"mira.okafor 1234", HoldsEmail},
		{"my harbour.example", HoldsEmail},
		{"aaaaaaaaaaaaaaaaaaaa", Repeats},
		{"ababababababababa", Repeats},
		{"teapotgravelteapotgravel", Repeats},
		{"gravelowgravelo", Repeats},
		{"1212343412123434121", Repeats},
		{"abcdefghijklmnopq", FollowsRows},
		{"zyxwvutsrqponmlkj", FollowsRows},
		{"12345678901234567", FollowsRows},
		{"qwertyuiopasdfghjkl", FollowsRows},
		{"1qaz2wsx3edc4rfv", FollowsRows},
		{"aaabbbcccdddeeefff", FollowsRows},
		{"correct horse battery staple", Common},
		{"CorrectHorseBatteryStaple1!", Common},
		{"c0rr3ct h0rs3 b4tt3ry st4pl3", Common},
		{"Password2024!!!!", Common},
		{"iloveyou-princess", Common},
		{"P@ssw0rd Dragon Monkey", Common},
		{"dance like nobody is watching", Common},
		{"I love you so much!!", Common},
		{"may.the.force.be.with.you", Common},
		{strings.Repeat("teapot gravel owl ", 15), TooLong},
		{strings.Repeat("é", 129) + "teapot gravel owl", TooLong},
		{"teapot \xff gravel owl", NotWhole},
	} {
		if why := Refusal(c.password, "Mira.Okafor@harbour.example"); why != c.want {
			t.Errorf("Refusal(%.60q) = %q, want %q", c.password, why, c.want)
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
