package store

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// Settings are what somebody chose about the program itself. Nothing of a job
// hangs on them.
type Settings struct {
	Look string // one of Looks; empty where nobody chose one
}

// Looks are the ways in which the screen can look, the default first.
var Looks = []string{"own", "dark", "light", "sun", "plain"}

const settingsName = "settings.toml"

// settingsFile is settings.toml in the order in which it is written.
type settingsFile struct {
	Edition *int64 `toml:"linewright_settings"`
	Look    string `toml:"look,omitempty"`
}

// Settings returns what was chosen; nothing where there is no file.
func (s *Store) Settings() (Settings, error) {
	data, err := s.readOptional(settingsName, MaxSmall)
	if err != nil || data == nil {
		return Settings{}, err
	}
	var read settingsFile
	f, err := bound(s.path(settingsName), data, "linewright_settings", &read, &read.Edition)
	if err != nil {
		return Settings{}, err
	}
	if fault := lookFault(read.Look); read.Look != "" && fault != nil {
		return Settings{}, f.fault(fault)
	}
	return Settings{Look: read.Look}, nil
}

// WriteSettings replaces the settings. A look that is none is refused.
func (s *Store) WriteSettings(set Settings) error {
	if fault := lookFault(set.Look); set.Look != "" && fault != nil {
		return fault
	}
	var b bytes.Buffer
	if err := toml.NewEncoder(&b).Encode(settingsFile{edition(), set.Look}); err != nil {
		return err
	}
	return s.write(settingsName, b.Bytes(), 0o644)
}

// CheckLook says whether name is one of Looks.
func CheckLook(name string) error {
	if fault := lookFault(name); fault != nil {
		fault.Key = ""
		return fault
	}
	return nil
}

func lookFault(name string) *Error {
	if slices.Contains(Looks, name) {
		return nil
	}
	return &Error{Key: "look", What: fmt.Sprintf("there is no look %q", clip(name)), Do: "choose one of " + strings.Join(Looks, ", ")}
}
