package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"sync"
	"time"

	"example.org/linewright/engine/job"
	"example.org/linewright/engine/journal"
	"example.org/linewright/engine/seal"
)

// Report is what a check of an exported folder came to.
type Report struct {
	Status   Status
	Job      int
	Wing     string
	Demo     bool
	Problems []Problem
	More     int         // problems that are not listed
	Closing  []Signature // over record.json
	Holds    []Signature // in the journal, in its order
	Asked    bool        // trusted keys were given
}

// Signature is a signature that fits what it signs.
type Signature struct {
	File        string
	Line        int // of the journal; 0 for a closing signature
	Role        string
	Fingerprint string
	Custody     string   // holds only: how the key was kept
	Names       []string // whose key it is by the trusted file; for a hold the name in it
	Trusted     bool
}

// Verify checks an exported folder: that every file is there, unchanged and
// no other; the journal's chain; that the journal gives record.json and
// record.txt byte for byte; each signed hold at its place in the chain; the
// closing signatures. allowed is the checker's own allowed_signers, got from
// elsewhere than this folder; without it the report says which keys signed,
// and nobody vouches for them. A key counts at the time that the journal
// claims, since an old record stays good when a key has run out.
//
// The folder may be a hostile one. Give the FS of an os.Root, so that a link
// put there meanwhile leads nowhere. The error is for a folder that cannot be
// read at all, or for a fault in allowed.
func Verify(fsys fs.FS, allowed []byte) (Report, error) {
	f, err := openFolder(fsys)
	if err != nil {
		return Report{}, err
	}
	v := &verifier{folder: f}
	if allowed != nil {
		if v.allowed, err = seal.ParseAllowedSigners(allowed); err != nil {
			return Report{}, err
		}
		v.r.Asked = true
	}
	v.check()
	return v.report(), nil
}

type verifier struct {
	*folder
	allowed *seal.AllowedSigners // nil: none given
	r       Report

	json    []byte
	listing []File // of record.json as it lies there; nil: not one of this edition
	rebuilt *Record
	cause   error // why there is no rebuilt one
	closed  time.Time
	sealed  bool // a signature, or else SHA256SUMS, agrees with record.json
	listed  map[string]string
	keys    signers
}

func (v *verifier) check() {
	v.required()
	v.json, _ = v.read(NameJSON)
	v.rebuild()
	v.parse()
	v.signatures()
	v.reference()
	v.compare()
	v.sumsFile()
	v.extras()
	v.independence()
}

// required notes the files that every record has.
func (v *verifier) required() {
	for _, name := range []string{NameJSON, NameText, NameJournal, NamePlan, NameReadme, NameSums} {
		if !v.names[name] {
			v.add(Missing, name)
		}
	}
}

// rebuild makes the record anew from what lies in the folder.
func (v *verifier) rebuild() {
	data, ok := v.read(NameJournal)
	if !ok {
		v.cause = errors.New("there is no journal")
		return
	}
	lines, torn, err := journal.Parse(data)
	if err == nil && torn != nil {
		err = errors.New("the last line of the journal is not complete")
	}
	if err != nil {
		v.add(Damaged, NameJournal, firstLine(err))
		v.cause = err
		return
	}
	done, err := replay(lines, pinsIn{v.folder}, v.hold)
	if err != nil {
		v.cause = err
		return
	}
	r, err := assemble(done)
	if err != nil {
		v.cause = err
		return
	}
	v.rebuilt = &r
	v.closed = moment(r.Content.Closed.At)
}

// parse reads the list in record.json.
func (v *verifier) parse() {
	if v.json == nil {
		return
	}
	var head struct {
		Edition *int   `json:"linewright_record"`
		Files   []File `json:"files"`
	}
	switch err := json.Unmarshal(v.json, &head); {
	case err != nil || head.Edition == nil:
		v.add(NotARecord, NameJSON)
	case *head.Edition != Edition:
		v.add(OtherEdition, NameJSON, *head.Edition, Edition)
	default:
		v.listing = append([]File{}, head.Files...)
	}
}

// reference chooses the list by which files are judged: that of record.json
// while something agrees with its bytes, else the one that the journal gives.
func (v *verifier) reference() {
	files := v.listing
	if v.rebuilt != nil && (!v.sealed || v.listing == nil) {
		files = v.rebuilt.Content.Files
	}
	v.listed = map[string]string{}
	for _, f := range files {
		v.listed[f.Name] = f.SHA256
	}
}

// compare holds each file against the list, and the record against the
// journal. What a changed file explains is not said twice.
func (v *verifier) compare() {
	explained := false
	for _, name := range sortedNames(v.listed) {
		sha, ok := v.sum(name)
		switch {
		case !ok && !v.names[name]:
			v.add(Missing, name)
			explained = true
		case ok && sha != v.listed[name]:
			v.add(Changed, name)
			explained = true
		}
	}
	switch {
	case v.rebuilt == nil:
		if !explained && v.byFile[NameJournal] == 0 {
			v.add(NotRebuilt, NameJournal, firstLine(v.cause))
		}
	case v.listing != nil && !(v.sealed && explained):
		v.same(NameJSON, v.rebuilt.JSON)
		v.same(NameText, v.rebuilt.Text)
	}
}

// same notes a file that is not what the journal gives.
func (v *verifier) same(name string, want []byte) {
	have, ok := v.read(name)
	if ok && !bytes.Equal(have, want) && v.byFile[name] == 0 {
		v.add(NotTheSame, name)
	}
}

// sumsFile checks SHA256SUMS. For a file that record.json covers it is the
// sums that are wrong, where the file agrees with record.json.
func (v *verifier) sumsFile() {
	data, ok := v.read(NameSums)
	if !ok {
		return
	}
	sums, bad := parseSums(data)
	for _, n := range bad {
		v.add(SumLine, NameSums, n)
	}
	for _, name := range sortedNames(sums) {
		v.sumLine(name, sums[name])
	}
	for _, name := range sortedNames(v.names) {
		if v.belongs(name) && name != NameSums && sums[name] == "" {
			v.add(SumNone, name, name)
			v.add(SumWrong, NameSums, name)
		}
	}
}

func (v *verifier) sumLine(name, want string) {
	if !v.names[name] {
		v.add(Missing, name)
		v.add(SumWrong, NameSums, name)
		return
	}
	if !v.belongs(name) {
		return // said by extras
	}
	have, ok := v.sum(name)
	if !ok || have == want {
		return
	}
	covered := v.listed[name] != "" || name == NameJSON
	if !covered {
		v.add(SumOther, name)
	}
	if !covered || v.byFile[name] == 0 {
		v.add(SumWrong, NameSums, name)
	}
}

// extras notes the files that nothing speaks of.
func (v *verifier) extras() {
	for _, name := range sortedNames(v.names) {
		if !v.belongs(name) {
			v.add(Extra, name)
		}
	}
}

// belongs reports whether a file is part of a record.
func (v *verifier) belongs(name string) bool {
	switch name {
	case NameJSON, NameText, NameJournal, NamePlan, NameReadme, NameSums, NameAllowed:
		return true
	}
	_, listed := v.listed[name]
	return listed || isSignature(name)
}

func isSignature(name string) bool {
	return strings.HasPrefix(name, NameJSON+".") && strings.HasSuffix(name, ".sig")
}

// report sums up.
func (v *verifier) report() Report {
	v.r.Problems, v.r.More, v.r.Status = v.problems, v.more, v.status
	if !v.r.Asked && v.r.Status == Verified {
		v.r.Status = NotVouched
	}
	if v.rebuilt != nil {
		c := v.rebuilt.Content
		v.r.Job, v.r.Wing, v.r.Demo = c.Job, c.Wing.Name, c.Demo
	}
	return v.r
}

// pinsIn finds plan and procedures in a folder. A procedure's name ends in the
// first digits of its SHA-256, so only what the journal asks for is read.
type pinsIn struct{ folder *folder }

var procedureName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z][a-z0-9-]*-([0-9a-f]{12})\.toml$`) })

// Pinned gives the file with a SHA-256.
func (p pinsIn) Pinned(sha string) ([]byte, error) {
	if data, ok := p.folder.read(NamePlan); ok && hashOf(data) == sha {
		return data, nil
	}
	for _, name := range sortedNames(p.folder.names) {
		m := procedureName().FindStringSubmatch(path.Base(name))
		if path.Dir(name) != dirProcedures || m == nil || !strings.HasPrefix(sha, m[1]) {
			continue
		}
		if data, ok := p.folder.read(name); ok && hashOf(data) == sha {
			return data, nil
		}
	}
	return nil, errors.New("a plan or procedure that the journal names is not there, or was changed")
}

var _ job.Pins = pinsIn{}

// moment reads a time of the journal; the zero time where it is none.
func moment(at string) time.Time {
	t, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return time.Time{}
	}
	return t
}
