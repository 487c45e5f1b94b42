package studio

// Family groups ladders by what the body does.
type Family string

// The families of ladders.
const (
	UpsideDown Family = "upside down"
	Wheels     Family = "wheels"
	Arches     Family = "arches"
	Rolls      Family = "rolls"
	Shapes     Family = "shapes"
	Flight     Family = "flight"
)

// Families lists the families in the order in which a studio reads them.
func Families() []Family { return []Family{Shapes, Rolls, UpsideDown, Wheels, Arches, Flight} }

// Manner says how a spotter stands by a rung.
type Manner string

// The manners of spotting.
const (
	NoSpotting Manner = "none"
	Near       Manner = "near"
	HandsOn    Manner = "hands-on"
)

// DrillKind says in which part of a lesson a drill has its place.
type DrillKind string

// The kinds of drill.
const (
	WarmUp       DrillKind = "warm-up"
	Conditioning DrillKind = "conditioning"
	SkillDrill   DrillKind = "skill"
	CoolDown     DrillKind = "cool-down"
)

// DrillKinds lists the kinds in the order of a lesson.
func DrillKinds() []DrillKind { return []DrillKind{WarmUp, Conditioning, SkillDrill, CoolDown} }

// Load is what one turn asks of a body: 0 (nothing) to 3 (much) of each kind. Studio's settings, not medicine.
type Load struct {
	Back    int `yaml:"back"`
	Wrists  int `yaml:"wrists"`
	Landing int `yaml:"landing"`
}

// Spotting says how many signed-off people a turn needs (0-2), how they stand, until when, and what they do.
type Spotting struct {
	People int    `yaml:"people"`
	Manner Manner `yaml:"manner"`
	Until  string `yaml:"until"`
	How    string `yaml:"how"`
}

// EquipmentNeed is what one working place set-up takes: Count pieces of the equipment give Places children a turn at once.
type EquipmentNeed struct {
	Key    string `yaml:"key"`
	Count  int    `yaml:"count"`
	Places int    `yaml:"places"`
}

// HomeSafety says whether a rung or drill may be practised at home, always with the reason.
type HomeSafety struct {
	Safe   bool   `yaml:"safe"`
	Reason string `yaml:"reason"`
	Adult  bool   `yaml:"adult,omitempty"` // an adult must be in the room
}

// Dose is how much of a drill: Sets of Repeats, each held for HoldSeconds (0 when nothing is held).
type Dose struct {
	Sets        int `yaml:"sets"`
	Repeats     int `yaml:"repeats"`
	HoldSeconds int `yaml:"hold_seconds"`
}

// Cause is one likely reason behind a fault. Strength (0-1) is the chance that the cause alone shows as the fault. A cause that
// stands at several faults of a rung is one and the same: of Prior, LeadsTo and LookFor the first that says something counts.
type Cause struct {
	Key      string   `yaml:"key"`
	Name     string   `yaml:"name"`
	Strength float64  `yaml:"strength"`
	Cue      string   `yaml:"cue"`
	Drills   []string `yaml:"drills"`
	Prior    float64  `yaml:"prior,omitempty"`    // how likely it is before anything is seen (0-1); 0 for the program's guess
	LeadsTo  []string `yaml:"leads_to,omitempty"` // causes of the same rung that it brings about, so that it is corrected first
	LookFor  string   `yaml:"look_for,omitempty"` // what to look for or ask to find out whether this is it
}

// Fault is something that goes wrong at a rung. A Safety fault keeps the rung from being secure while it is seen.
type Fault struct {
	Key    string  `yaml:"key"`
	Name   string  `yaml:"name"`
	Safety bool    `yaml:"safety"`
	Causes []Cause `yaml:"causes"`
}

// Rung is one step of a ladder. Needs are keys of rungs of any ladder that must be secure first. Figure is names of poses, from the
// start to the finish.
type Rung struct {
	Key         string          `yaml:"key"`
	Name        string          `yaml:"name"`
	Start       string          `yaml:"start"`
	Finish      string          `yaml:"finish"`
	Figure      []string        `yaml:"figure"`
	Look        []string        `yaml:"look"`
	Needs       []string        `yaml:"needs"`
	Spotting    Spotting        `yaml:"spotting"`
	Equipment   []EquipmentNeed `yaml:"equipment"`
	TurnSeconds int             `yaml:"turn_seconds"`
	Load        Load            `yaml:"load"`
	TwoSided    bool            `yaml:"two_sided"`
	Inverted    bool            `yaml:"inverted"`
	BackBend    bool            `yaml:"back_bend"`
	Flight      bool            `yaml:"flight"`
	Home        HomeSafety      `yaml:"home"`
	Caution     string          `yaml:"caution"`
	Faults      []Fault         `yaml:"faults"`
}

// Ladder is a run of rungs from bottom to top.
type Ladder struct {
	Key    string `yaml:"key"`
	Name   string `yaml:"name"`
	Family Family `yaml:"family"`
	About  string `yaml:"about"`
	Rungs  []Rung `yaml:"rungs"`
}

// Drill is an exercise that prepares rungs or answers the cause of a fault. Figure is names of poses in order.
type Drill struct {
	Key         string          `yaml:"key"`
	Name        string          `yaml:"name"`
	Kind        DrillKind       `yaml:"kind"`
	Figure      []string        `yaml:"figure"`
	Steps       []string        `yaml:"steps"`
	Prepares    []string        `yaml:"prepares"`
	TurnSeconds int             `yaml:"turn_seconds"`
	Load        Load            `yaml:"load"`
	Equipment   []EquipmentNeed `yaml:"equipment"`
	Spotting    Spotting        `yaml:"spotting"`
	Dose        Dose            `yaml:"dose"`
	Space       string          `yaml:"space"`
	Caution     string          `yaml:"caution"`
	TwoSided    bool            `yaml:"two_sided"`
	Inverted    bool            `yaml:"inverted"`
	BackBend    bool            `yaml:"back_bend"`
	Flight      bool            `yaml:"flight"`
	Partner     bool            `yaml:"partner"`
	Home        HomeSafety      `yaml:"home"`
}

// Library is the whole of a studio's skills: ladders in reading order and the drills beside them.
type Library struct {
	Ladders []Ladder
	Drills  []Drill
}
