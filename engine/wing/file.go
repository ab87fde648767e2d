package wing

// Edition is the edition of the plan file that this package reads:
// the value of the key linewright_plan.
const Edition = 1

// MaxLines is the largest number of lines that a plan may hold.
const MaxLines = 2000

// planFile is a plan file as it stands, before anything is believed.
// Numbers are pointers, so that a missing one is not taken for nothing.
type planFile struct {
	Edition      *int                  `toml:"linewright_plan"`
	Name         string                `toml:"name"`
	Size         string                `toml:"size"`
	Partial      bool                  `toml:"partial"`
	AsFound      bool                  `toml:"as_found"`
	GreatestMass *float64              `toml:"greatest_mass_kg"`
	Source       sourceTable           `toml:"source"`
	Pull         *pullTable            `toml:"pull"`
	Limits       map[string]givenTable `toml:"limits"`
	Risers       []riserTable          `toml:"riser"`
	Links        []linkTable           `toml:"link"`
	Lines        []lineTable           `toml:"line"`
	PathsFrom    string                `toml:"paths_from"`
	Paths        []pathTable           `toml:"path"`
	Rows         []rowTable            `toml:"row"`
	Brake        *brakeTable           `toml:"brake"`
	Exceptions   []exceptionTable      `toml:"exception"`
}

type sourceTable struct {
	Text string `toml:"text"`
	Date string `toml:"date"`
}

type pullTable struct {
	N      *float64 `toml:"n"`
	Source string   `toml:"source"`
}

// givenTable is a length that may stand only with its source.
type givenTable struct {
	MM     *float64 `toml:"mm"`
	Source string   `toml:"source"`
}

type riserTable struct {
	Branch   string   `toml:"branch"`
	LengthMM *float64 `toml:"length_mm"`
}

type linkTable struct {
	Name         string   `toml:"name"`
	Branch       string   `toml:"branch"`
	Kind         string   `toml:"kind"`
	WireMM       *float64 `toml:"wire_mm"`
	PitchMM      *float64 `toml:"pitch_mm"`
	ThreadMM     *float64 `toml:"thread_mm"`
	Source       string   `toml:"source"`
	TorqueNM     *float64 `toml:"torque_nm"`
	TorqueSource string   `toml:"torque_source"`
	Retainer     string   `toml:"retainer"`
}

type lineTable struct {
	Code       string   `toml:"code"`
	Row        string   `toml:"row"`
	Tier       string   `toml:"tier"`
	On         string   `toml:"on"`
	Pos        *int     `toml:"pos"`
	Point      string   `toml:"point"`
	Span       *float64 `toml:"span"`
	LengthMM   *float64 `toml:"length_mm"`
	Material   string   `toml:"material"`
	Colour     string   `toml:"colour"`
	Sheathed   *bool    `toml:"sheathed"`
	Sewn       bool     `toml:"sewn"`
	DiameterMM *float64 `toml:"diameter_mm"`
	StrengthN  *float64 `toml:"strength_n"`
}

// pathTable is the length of a whole path as the papers state it.
type pathTable struct {
	Point    string   `toml:"point"`
	Row      string   `toml:"row"`
	LengthMM *float64 `toml:"length_mm"`
}

// rowTable is where a row sits along the chord and what it carries.
type rowTable struct {
	Name       string   `toml:"name"`
	ChordMM    *float64 `toml:"chord_mm"`
	LoadWeight *float64 `toml:"load_weight"`
	Source     string   `toml:"source"`
}

type brakeTable struct {
	Main      string        `toml:"main"`
	Pulleys   []pulleyTable `toml:"pulley"`
	SpareMM   *float64      `toml:"spare_mm"`
	LeastTail *givenTable   `toml:"least_tail"`
	LeastPlay *givenTable   `toml:"least_free_play"`
}

type pulleyTable struct {
	Name    string   `toml:"name"`
	BelowMM *float64 `toml:"below_mm"`
}

// exceptionTable states how a line of one side differs from the table.
type exceptionTable struct {
	Side       string   `toml:"side"`
	Code       string   `toml:"code"`
	LengthMM   *float64 `toml:"length_mm"`
	Material   string   `toml:"material"`
	Colour     string   `toml:"colour"`
	Sheathed   *bool    `toml:"sheathed"`
	DiameterMM *float64 `toml:"diameter_mm"`
	StrengthN  *float64 `toml:"strength_n"`
}
