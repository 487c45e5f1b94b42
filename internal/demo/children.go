package demo

// pupil is a child of the invented studio. Years and days make the age; gift (0 to 1) is how readily the child learns;
// weak is the side that lags.
type pupil struct {
	given, family string
	years, days   int
	class         string
	gift          float64
	weak          side
	also          string // a second class
}

// side is a leading side.
type side bool

const (
	weakLeft  side = false
	weakRight side = true
)

// pupils lists all children, class by class. Mila and Milla look alike on a list on purpose.
func pupils() []pupil {
	return []pupil{
		{"Ottilie", "Brandt", 6, 40, sandpipers, 0.55, weakLeft, ""},
		{"Kwame", "Boateng", 6, 210, sandpipers, 0.70, weakLeft, ""},
		{"Saoirse", "O’Malley", 7, 95, sandpipers, 0.80, weakRight, ""},
		{"Ísold", "Jökulsdóttir", 6, 300, sandpipers, 0.45, weakLeft, ""},
		{"Mateus", "Conceição", 5, 260, sandpipers, 0.30, weakLeft, ""},
		{"Jago", "Pascoe", 6, 15, sandpipers, 0.60, weakLeft, ""},
		{"Hana", "Košťálová", 6, 122, sandpipers, 0.50, weakRight, ""},
		{"Zuri", "Nkemelu", 5, 340, sandpipers, 0.65, weakLeft, ""},
		{"Théo", "Lefèvre-Quill", 6, 181, sandpipers, 0.40, weakLeft, ""},
		{"Bashir", "Al-Tamimi", 7, 12, sandpipers, 0.75, weakLeft, ""},

		{"Oisín", "Ó Faoláin", 9, 133, terns, 0.60, weakLeft, ""},
		{"Mila", "Novak", 8, 70, terns, 0.50, weakLeft, ""},
		{"Milla", "Nowak", 9, 301, terns, 0.75, weakRight, ""},
		{"Bảo Châu", "Nguyễn", 9, 22, terns, 0.85, weakLeft, ""},
		{"Çağrı", "Yıldız", 10, 48, terns, 0.40, weakLeft, ""},
		{"Amara", "Okonjo", 9, 166, terns, 0.70, weakLeft, ""},
		{"Elowen", "Pascoe", 10, 5, terns, 0.90, weakRight, ""},
		{"Søren", "Kjærgaard", 8, 244, terns, 0.35, weakLeft, ""},
		{"Priya", "Raghunathan", 9, 88, terns, 0.65, weakLeft, ""},
		{"Jean-Luc", "D’Aubigny", 10, 199, terns, 0.55, weakLeft, ""},
		{"Ximena", "Peñaloza", 8, 310, terns, 0.60, weakRight, ""},
		{"Wren", "Ashdown", 9, 255, terns, 0.70, weakLeft, ""},
		{"Agnieszka", "Żak", 10, 120, terns, 0.80, weakLeft, ""},
		{"Tāne", "Rangihuna", 9, 9, terns, 0.25, weakLeft, ""},

		{"Leonie", "Weiß", 12, 64, cormorants, 0.80, weakLeft, ""},
		{"Zoë", "van der Meij", 11, 219, cormorants, 0.60, weakLeft, ""},
		{"Dilan", "Öztürk", 12, 150, cormorants, 0.45, weakRight, ""},
		{"Imogen", "Carrow", 13, 31, cormorants, 0.95, weakLeft, petrels},
		{"Aïcha", "Benhaddou", 11, 277, cormorants, 0.70, weakLeft, ""},
		{"Rhys", "ap Gwilym", 13, 110, cormorants, 0.50, weakLeft, ""},
		{"Nadia", "Hryhorenko", 12, 333, cormorants, 0.65, weakRight, ""},
		{"Maeve", "O’Shaughnessy", 12, 18, cormorants, 0.40, weakLeft, ""},
		{"Kaito", "Fujimori", 11, 142, cormorants, 0.75, weakLeft, ""},
		{"Freya", "Nordström", 13, 205, cormorants, 0.55, weakLeft, ""},
		{"Chiamaka", "Eze", 12, 91, cormorants, 0.85, weakLeft, ""},
		{"Luca", "Bellandi", 11, 58, cormorants, 0.35, weakLeft, ""},
		{"Şirin", "Aksoy", 13, 260, cormorants, 0.60, weakRight, ""},

		{"Astrid", "Løvenskiold", 14, 77, petrels, 0.75, weakLeft, ""},
		{"Émilie", "Saint-Clair", 13, 188, petrels, 0.85, weakLeft, ""},
		{"Tomasz", "Śliwiński", 15, 23, petrels, 0.55, weakLeft, ""},
		{"Blessing", "Adeoye", 12, 310, petrels, 0.95, weakRight, ""},
		{"Morwenna", "Keast", 14, 140, petrels, 0.60, weakLeft, ""},
		{"Yui", "Hasegawa", 13, 46, petrels, 0.80, weakLeft, ""},
		{"Ana", "Đorđević", 12, 201, petrels, 0.70, weakLeft, ""},
		{"Ravi", "Chandrasekar", 14, 265, petrels, 0.45, weakLeft, ""},
		{"Hollie", "Vane", 10, 99, petrels, 0.90, weakRight, ""},
		{"Ngozi", "Umeh", 15, 174, petrels, 0.65, weakLeft, ""},
		{"Caoimhe", "Mac Giolla", 13, 300, petrels, 0.70, weakLeft, ""},
	}
}

// fullName is how the rows of this package name a child.
func (p pupil) fullName() string { return p.given + " " + p.family }

// parent is a guardian: with a passphrase an account, without one an invitation that has not been answered.
type parent struct {
	name, email, passphrase, relation string
	children                          []string // full names
}

func parents() []parent {
	return []parent{
		{"Elspeth Pascoe", elspethEmail, "pebble orchestra plum nine", "mother", []string{"Elowen Pascoe", "Jago Pascoe"}},
		{"Ifeoma Okonjo", "ifeoma.okonjo@post.example", "amber ladder whistle fog", "mother", []string{"Amara Okonjo"}},
		{"Daniel Marsh", "daniel.marsh@post.example", "copper sparrow idle train", "father", []string{"Amara Okonjo"}},
		{"Henrike Weiß", "henrike.weiss@post.example", "velvet engine salt window", "mother", []string{"Leonie Weiß"}},
		{"Corin Ashdown", "corin.ashdown@post.example", "thimble glacier warm oboe", "father", []string{"Wren Ashdown"}},
		{"Marit Ó Faoláin", ownerEmail, "", "mother", []string{"Oisín Ó Faoláin"}},
		{"Nguyễn Văn Hải", "hai.nguyen@post.example", "", "father", []string{"Bảo Châu Nguyễn"}},
		{"Elif Yıldız", "elif.yildiz@post.example", "", "mother", []string{"Çağrı Yıldız"}},
		{"Bożena Żak", "bozena.zak@post.example", "", "grandmother", []string{"Agnieszka Żak"}},
		{"Siobhán O’Malley", "siobhan.omalley@post.example", "", "mother", []string{"Saoirse O’Malley"}},
		{"Mette Kjærgaard", "mette.kjaergaard@post.example", "", "mother", []string{"Søren Kjærgaard"}},
		{"Rose Adeoye", "rose.adeoye@post.example", "", "mother", []string{"Blessing Adeoye"}},
	}
}
