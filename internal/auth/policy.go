package auth

import (
	_ "embed"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Limits of a password. NIST SP 800-63B-4, section 3.1.1.2 (from memory): at least 15 characters where it is the only factor, each code
// point counts as one, no composition rules, a list of common ones refused. The upper limit is ours, after normalising.
const (
	MinCharacters = 15
	MaxBytes      = 256
)

// Flaw is why a new password is refused.
type Flaw string

// The flaws of a password.
const (
	NoFlaw      Flaw = ""
	TooShort    Flaw = "short" // fewer than MinCharacters
	TooLong     Flaw = "long"  // more than MaxBytes
	NotWhole    Flaw = "broken"
	HoldsEmail  Flaw = "email"
	Repeats     Flaw = "repeats" // the same few characters
	FollowsRows Flaw = "order"   // of the alphabet or the keyboard
	Common      Flaw = "common"  // on the list of those that are tried first
)

// Refusal says why a new password is refused; NoFlaw when it will do. The e-mail is that of the account; it may be empty.
func Refusal(password, email string) Flaw {
	secret, ok := prepare(password)
	if !ok && password != "" {
		return unusable(password)
	}
	plain := strings.ToLower(string(secret))
	switch {
	case utf8.RuneCount(secret) < MinCharacters:
		return TooShort
	case holdsEmail(plain, norm.NFC.String(strings.ToLower(email))):
		return HoldsEmail
	case isRepetition([]rune(plain)):
		return Repeats
	case isSequence([]rune(plain)):
		return FollowsRows
	case isCommon(plain):
		return Common
	}
	return NoFlaw
}

// prepare is the password as it is hashed: every kind of space as a plain one, and NFC, so that every keyboard's é is the
// same é (RFC 8265, section 4.2.2). It is false for what cannot be a password.
func prepare(password string) ([]byte, bool) {
	if password == "" || len(password) > 4*MaxBytes || !utf8.ValidString(password) {
		return nil, false
	}
	secret := norm.NFC.AppendString(nil, strings.Map(plainSpace, password))
	return secret, len(secret) <= MaxBytes
}

func plainSpace(r rune) rune {
	if unicode.Is(unicode.Zs, r) {
		return ' '
	}
	return r
}

func unusable(password string) Flaw {
	if !utf8.ValidString(password) {
		return NotWhole
	}
	return TooLong
}

// holdsEmail reports whether the address is in the password, or whether too little is left of it without the address's
// parts.
func holdsEmail(plain, email string) bool {
	name, host, found := strings.Cut(email, "@")
	if !found {
		return false
	}
	if strings.Contains(plain, email) {
		return true
	}
	left := plain
	for _, part := range []string{name, host, strings.SplitN(host, ".", 2)[0]} {
		if utf8.RuneCountInString(part) >= 4 {
			left = strings.ReplaceAll(left, part, "")
		}
	}
	return left != plain && utf8.RuneCountInString(left) < MinCharacters
}

// isRepetition reports whether fewer than five different characters are used, or a beginning of at most half is repeated.
func isRepetition(plain []rune) bool {
	seen := map[rune]bool{}
	for _, r := range plain {
		seen[r] = true
	}
	if len(seen) < 5 {
		return true
	}
	for period := 1; period <= (len(plain)+1)/2; period++ {
		if string(plain[period:]) == string(plain[:len(plain)-period]) {
			return true
		}
	}
	return false
}

// keyboardRuns are neighbours on the keyboards of English, German and French writers, across and down.
const keyboardRuns = "`1234567890-= qwertyuiop[] asdfghjkl;' zxcvbnm,./ qwertzuiop azertyuiop qsdfghjklm wxcvbn yxcvbnm " +
	"1qaz 2wsx 3edc 4rfv 5tgb 6yhn 7ujm 8ik, 9ol. 0p;/ 1qay 2wsx !@#$%^&*()_+"

// isSequence reports whether two of every three steps go to a neighbour in the alphabet or on the keyboard, or nowhere.
func isSequence(plain []rune) bool {
	near := 0
	for i := 1; i < len(plain); i++ {
		if isNear(plain[i-1], plain[i]) {
			near++
		}
	}
	return near*3 >= (len(plain)-1)*2
}

func isNear(a, b rune) bool {
	if d := b - a; d >= -1 && d <= 1 {
		return true
	}
	if a == ' ' || b == ' ' {
		return false
	}
	return strings.Contains(keyboardRuns, string([]rune{a, b})) || strings.Contains(keyboardRuns, string([]rune{b, a}))
}

//go:embed common.txt
var commonText string

var commonSet = sync.OnceValue(func() map[string]bool {
	set := map[string]bool{}
	for line := range strings.Lines(commonText) {
		if key := skeleton(line); key != "" && !strings.HasPrefix(line, "#") {
			set[key] = true
		}
	}
	return set
})

// isCommon reports whether the whole password is an entry of the list or some of them in a row, whatever its spaces and
// marks, digits that stand for letters, and digits and marks at either end, as long as those are not the longer part.
func isCommon(plain string) bool {
	if isOfList(skeleton(plain)) {
		return true
	}
	core := strings.TrimFunc(plain, isNoLetter)
	return 2*len(core) >= len(plain) && isOfList(skeleton(core))
}

// isOfList reports whether entries of the list, end to end, make the whole key.
func isOfList(key string) bool {
	set := commonSet()
	made := make([]bool, len(key)+1) // made[i]: key[:i] is made of entries
	made[0] = true
	for end := 1; end <= len(key); end++ {
		for start := 0; start < end && !made[end]; start++ {
			made[end] = made[start] && set[key[start:end]]
		}
	}
	return key != "" && made[len(key)]
}

func isNoLetter(r rune) bool { return !unicode.IsLetter(r) }

var unmask = strings.NewReplacer("0", "o", "1", "i", "l", "i", "!", "i", "|", "i", "3", "e", "€", "e", "4", "a", "@", "a",
	"5", "s", "$", "s", "7", "t", "+", "t", "8", "b", "9", "g")

// skeleton is a text in small letters with digits and signs read as the letters that they stand for, and nothing else.
func skeleton(text string) string {
	return strings.Map(func(r rune) rune {
		if isNoLetter(r) {
			return -1
		}
		return r
	}, unmask.Replace(strings.ToLower(text)))
}
