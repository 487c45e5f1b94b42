package demo

import "rungbook/internal/studio"

// helper is somebody who works at the studio. Years and days make the age: so many years and so many days since the last birthday.
// Without an e-mail address there is no account; without a passphrase the address is invited and has not answered.
type helper struct {
	name, email, passphrase string
	roles                   []studio.Role
	years, days             int
	phone                   string
	trainee, leads          bool
	signedOff               []signOffs
}

// signOffs grants all spotted rungs of ladders, from so many days before today until so many after; a negative until has expired.
// Until cuts a ladder off after that rung; "" takes all of it.
type signOffs struct {
	ladder, until string
	from, expires int
}

const (
	ownerEmail     = "marit@tidebell.example"
	zoeEmail       = "zoe@tidebell.example"
	caglaEmail     = "cagla@tidebell.example"
	lucjaEmail     = "lucja@tidebell.example"
	anhEmail       = "anh@tidebell.example"
	jossEmail      = "joss@tidebell.example"
	elspethEmail   = "elspeth.pascoe@post.example"
	absentTonight  = "Nguyễn Thị Ánh"
	expiredSignOff = "Rune Sørlie"
)

func staff() []helper {
	return []helper{
		{name: "Marit Ó Faoláin", email: ownerEmail, passphrase: "kelp lantern ninety ropes", roles: []studio.Role{studio.OwnerRole, studio.TeacherRole},
			years: 46, days: 112, phone: "0100 555 0101", leads: true, signedOff: everything(300, 240)},
		{name: "Zoë Adeyemi-Hart", email: zoeEmail, passphrase: "gravel teapot under moon", roles: []studio.Role{studio.TeacherRole},
			years: 34, days: 41, phone: "0100 555 0102", leads: true, signedOff: everything(250, 170)},
		{name: "Çağla Demirtaş", email: caglaEmail, passphrase: "seven herons borrow ink", roles: []studio.Role{studio.TeacherRole},
			years: 29, days: 203, phone: "0100 555 0103", leads: true, signedOff: everything(120, 245)},
		{name: "Łucja Wróblewska", email: lucjaEmail, passphrase: "biscuit harbour violet nail", roles: []studio.Role{studio.AssistantRole},
			years: 20, days: 77, phone: "0100 555 0104", leads: true, signedOff: []signOffs{
				{"support", "", 210, 155}, {"forward-roll", "", 210, 155}, {"handstand", "hs-pass", 210, 155},
				{"cartwheel", "cw-lunge", 356, 9}, {"bridge", "", 140, 225}, {"backward-roll", "", 140, 225}, {"headstand", "hd-tuck", 60, 305}}},
		{name: absentTonight, email: anhEmail, passphrase: "windmill carrot slow piano", roles: []studio.Role{studio.AssistantRole},
			years: 22, days: 300, phone: "0100 555 0105", leads: true, signedOff: []signOffs{
				{"handstand", "", 90, 275}, {"cartwheel", "", 90, 275}, {"forward-roll", "", 90, 275}, {"bridge", "", 90, 275},
				{"headstand", "", 90, 275}, {"round-off", "ro-step", 90, 275}}},
		{name: "Joss Penhale", email: jossEmail, passphrase: "quiet anchor mustard drum", roles: []studio.Role{studio.AssistantRole},
			years: 16, days: 190, phone: "0100 555 0106", signedOff: []signOffs{
				{"support", "", 45, 320}, {"forward-roll", "", 45, 320}, {"cartwheel", "cw-circle", 45, 320}, {"handstand", "hs-light-kick", 45, 320}}},
		{name: "D’Arcy Mbeki", years: 15, days: 330, phone: "0100 555 0107", trainee: true},
		{name: expiredSignOff, email: "rune@tidebell.example", roles: []studio.Role{studio.AssistantRole},
			years: 37, days: 15, phone: "0100 555 0108", leads: true, signedOff: []signOffs{
				{"standing-bridge", "", 380, -15}, {"back-over", "bo-kick", 380, -15}, {"bridge", "", 200, 165}, {"handstand", "", 200, 165}}},
	}
}

// everything signs somebody off for all ladders.
func everything(from, expires int) []signOffs {
	return []signOffs{{"", "", from, expires}}
}

// staffEmail is the address of somebody by name; "" without one.
func staffEmail(name string) string {
	for _, h := range staff() {
		if h.name == name {
			return h.email
		}
	}
	return ""
}
