package seal_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"example.org/linewright/engine/seal"
)

func parseSigners(t *testing.T, content string) *seal.AllowedSigners {
	t.Helper()
	return must[*seal.AllowedSigners](t)(seal.ParseAllowedSigners([]byte(content)))
}

func TestParseAllowedSigners(t *testing.T) {
	ann, ben := newSigner(t, "ann.example").Public(), newSigner(t, "ben.example").Public()
	content := "# people of the club\r\n" +
		"\n" +
		"  ann.example " + ann.Authorized() + "\r\n" +
		"\t# a note\n" +
		"\"ben.example,*@ben.example\"\tnamespaces=\"file,record-*\",VALID-AFTER=\"20260101Z\",valid-before=\"202612312359Z\" \t" + ben.Authorized() + "  Ben,  the rigger "
	got := parseSigners(t, content).Entries
	want := []seal.Entry{
		{Line: 3, Principals: []string{"ann.example"}, Key: ann},
		{
			Line: 5, Principals: []string{"ben.example", "*@ben.example"}, Namespaces: []string{"file", "record-*"},
			ValidAfter:  time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC),
			ValidBefore: time.Date(2026, 12, 31, 23, 59, 0, 0, time.UTC),
			Key:         ben, Comment: "Ben,  the rigger",
		},
	}
	if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b seal.PublicKey) bool { return a == b })); diff != "" {
		t.Error(diff)
	}
	if empty := parseSigners(t, ""); len(empty.Entries) != 0 {
		t.Errorf("an empty file has entries: %v", empty.Entries)
	}
}

func TestFaultsInAllowedSigners(t *testing.T) {
	key := newSigner(t, "ann.example").Public().Authorized()
	weak := strings.TrimSpace(rsaLine(t, 1024))
	for _, c := range []struct{ line, what string }{
		{"ann.example", "the key is missing"},
		{"ann.example ssh-ed25519", "the key is missing"},
		{`ann.example namespaces="file"`, "the key is missing"},
		{key, "the name in front of the key is missing"},
		{"ann.example ssh-ed25519 AAAA*", `no key follows the word "ssh-ed25519"`},
		{"ann.example " + strings.Replace(key, "ssh-ed25519", "ssh-rsa", 1), `the line says "ssh-rsa", the key in it is "ssh-ed25519"`},
		{"ann.example " + key[:52], "the public key is damaged or of an unknown type"},
		{"ann.example " + weak, "the RSA key has 1024 bits; below 2048 it could be forged"},
		{"ann.example ED25519 " + key, `"ed25519" is neither a key type nor an option`},
		{"ann ben " + key, `"ben" is neither a key type nor an option`},
		{"ann, ben " + key, `"" is neither a name nor a pattern of names`},
		{",ann " + key, `"" is neither a name nor a pattern of names`},
		{"ann,!,ben " + key, `"!" is neither a name nor a pattern of names`},
		{"ann;ben " + key, `"ann;ben" is neither a name nor a pattern of names`},
		{`"ann ben" ` + key, `"ann ben" is neither a name nor a pattern of names`},
		{"łucja " + key, `"łucja" is neither a name nor a pattern of names`},
		{strings.Repeat("a", 65) + " " + key, `"` + strings.Repeat("a", 65) + `" is neither a name nor a pattern of names`},
		{`"ann.example ` + key, "the quotes around the names are not closed"},
		{`"ann"ben ` + key, "the quotes around the names are not closed"},
		{`a"nn" ` + key, `"a\"nn\"" is neither a name nor a pattern of names`},
		{"ann.example cert-authority " + key, "cert-authority: certificates are not supported"},
		{"*.example CERT-authority,namespaces=\"file\" " + key, "cert-authority: certificates are not supported"},
		{"ann.example no-touch-required " + key, `"no-touch-required" is neither a key type nor an option`},
		{"ann.example namespaces=file " + key, `the value of "namespaces" is not in double quotes`},
		{`ann.example namespaces="file ` + key, `the value of "namespaces" is not in double quotes`},
		{`ann.example namespaces ` + key, `"" is neither a namespace nor a pattern of them`},
		{`ann.example namespaces="" ` + key, `"" is neither a namespace nor a pattern of them`},
		{`ann.example namespaces="file, git" ` + key, `" git" is neither a namespace nor a pattern of them`},
		{`ann.example namespaces="a\"b" ` + key, `the value of "namespaces" is not in double quotes`},
		{`ann.example namespaces="file",namespaces="git" ` + key, "the option namespaces stands twice"},
		{`ann.example namespaces="file", ` + key, `something other than an option follows "namespaces"`},
		{`ann.example namespaces="file"git ` + key, `something other than an option follows "namespaces"`},
		{`ann.example ,namespaces="file" ` + key, `"" is neither a key type nor an option`},
		{`ann.example valid-after="20260101" ` + key, `"20260101" is not a moment in UTC`},
		{`ann.example valid-before="20260230Z" ` + key, `"20260230Z" is not a moment in UTC`},
		{`ann.example valid-before="2026-01-01Z" ` + key, `"2026-01-01Z" is not a moment in UTC`},
		{`ann.example valid-before="2026010112Z" ` + key, `"2026010112Z" is not a moment in UTC`},
		{`ann.example valid-before="19691231Z" ` + key, `"19691231Z" is not a moment in UTC`},
		{`ann.example valid-before="always" ` + key, `"always" is not a moment in UTC`},
		{`ann.example valid-after="20260102Z",valid-before="20260102Z" ` + key, "valid-before is not later than valid-after"},
		{"ann.example " + key + " \x1b[2J", "the line holds a control character or is not UTF-8"},
		{"ann.example " + key + " \xff", "the line holds a control character or is not UTF-8"},
		{"\ufeffann.example " + key, "the line holds a control character or is not UTF-8"},
		{"ann.example\r" + key, "the line holds a control character or is not UTF-8"},
	} {
		t.Run(c.line, func(t *testing.T) {
			signers, err := seal.ParseAllowedSigners([]byte("ben.example " + key + "\n\n" + c.line + "\n"))
			e := wantKind(t, err, seal.BadSignersFile)
			if want := "allowed_signers line 3: " + c.what; e.What != want || e.Line != 3 {
				t.Errorf("line %d\n got %s\nwant %s", e.Line, e.What, want)
			}
			if signers != nil {
				t.Error("something was returned beside the error")
			}
		})
	}
}

func TestHugeAllowedSignersIsRefused(t *testing.T) {
	_, err := seal.ParseAllowedSigners(make([]byte, 1<<20+1))
	wantKind(t, err, seal.BadSignersFile)
}

func TestPrincipalsFor(t *testing.T) {
	ann, ben := newSigner(t, "ann.example").Public(), newSigner(t, "ben.example").Public()
	signers := parseSigners(t, strings.Join([]string{
		`*.example,zoe.example,!kim.example,kim.example ` + ann.Authorized(),
		`ann.example,zoe.example valid-before="20260601Z" ` + ann.Authorized(),
		`eve.example namespaces="file" ` + ann.Authorized(),
		`ann.example,zoe.example ` + ann.Authorized(),
		`ben.example ` + ben.Authorized(),
	}, "\n"))
	for _, c := range []struct {
		key       seal.PublicKey
		namespace string
		at        time.Time
		want      []string
	}{
		{ann, seal.NamespaceHold, noon, []string{"zoe.example", "ann.example"}},
		{ann, "file", noon, []string{"zoe.example", "eve.example", "ann.example"}},
		{ben, seal.NamespaceHold, noon, []string{"ben.example"}},
		{newSigner(t, "kim.example").Public(), seal.NamespaceHold, noon, nil},
	} {
		if got := signers.PrincipalsFor(c.key, c.namespace, c.at); !slices.Equal(got, c.want) {
			t.Errorf("%s at %s: got %v, want %v", c.namespace, c.at, got, c.want)
		}
	}
}

func TestKeyAllowedSaysWhyNot(t *testing.T) {
	ann, ben := newSigner(t, "ann.example").Public(), newSigner(t, "ben.example").Public()
	signers := parseSigners(t, `ann.example namespaces="record-*",valid-after="20260101Z",valid-before="20260701Z" `+ann.Authorized())
	july := time.Date(2026, 7, 1, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name      string
		key       seal.PublicKey
		namespace string
		at        time.Time
		reason    string // empty: allowed
	}{
		{"ann.example", ann, seal.NamespaceRecord, noon, ""},
		{"ann.example", ann, seal.NamespaceRecord, july.Add(999 * time.Millisecond), ""},
		{"ann.example", ann, seal.NamespaceRecord, july.Add(time.Second), "line 1 lets it count up to 2026-07-01T00:00:00Z"},
		{"ann.example", ann, seal.NamespaceRecord, noon.AddDate(-1, 0, 0), "line 1 lets it count from 2026-01-01T00:00:00Z on"},
		{"ann.example", ann, seal.NamespaceHold, noon, `line 1 does not allow the namespace "hold-v1@linewright.example.org"`},
		{"ben.example", ann, seal.NamespaceRecord, noon, "line 1 gives that key to ann.example"},
		{"ann.example", ben, seal.NamespaceRecord, noon, "no line names that key"},
		{"\x1b[2J", ben, seal.NamespaceRecord, noon, "not trusted for ?[2J"},
	} {
		err := signers.KeyAllowed(c.name, c.key, c.namespace, c.at)
		if c.reason == "" {
			if err != nil {
				t.Errorf("%s at %s: %v", c.name, c.at, err)
			}
			continue
		}
		if e := wantKind(t, err, seal.NotTrusted); !strings.Contains(e.What, c.reason) || e.Key != c.key {
			t.Errorf("says %q, want %q in it", e.What, c.reason)
		}
	}
}

func TestSamePerson(t *testing.T) {
	keys := make([]seal.PublicKey, 6)
	for i := range keys {
		keys[i] = newSigner(t, "ann.example").Public()
	}
	ann, annOld, ben, club, guests, stranger := keys[0], keys[1], keys[2], keys[3], keys[4], keys[5]
	signers := parseSigners(t, strings.Join([]string{
		"ann.example " + ann.Authorized(),
		`ann,ann.example namespaces="file",valid-before="20200101Z" ` + annOld.Authorized(),
		"ben.example " + ben.Authorized(),
		"*.example,!ben.example " + club.Authorized(),
		"guest-? " + guests.Authorized(),
	}, "\n"))
	for _, c := range []struct {
		name       string
		one, other seal.PublicKey
		want       bool
	}{
		{"one key", ann, ann, true},
		{"unknown key with itself", stranger, stranger, true},
		{"two keys of one name, one of them expired", ann, annOld, true},
		{"two names", ann, ben, false},
		{"a pattern that fits the name", ann, club, true},
		{"a pattern that takes the name out", ben, club, false},
		{"two patterns may be one person", club, guests, true},
		{"a pattern that does not fit", ann, guests, false},
		{"a key that nobody vouches for", ann, stranger, false},
	} {
		if signers.SamePerson(c.one, c.other) != c.want || signers.SamePerson(c.other, c.one) != c.want {
			t.Errorf("%s: want %v both ways", c.name, c.want)
		}
	}
}

func TestAppend(t *testing.T) {
	ann, ben := newSigner(t, "ann.example").Public(), newSigner(t, "ben.example").Public()
	start := "# the club's people, kept by hand\r\n\r\nben.example " + ben.Authorized() // no last line end
	got := string(must[[]byte](t)(seal.Append([]byte(start), "ann.example", ann)))
	want := start + "\nann.example namespaces=\"*@linewright.example.org\" " + ann.Authorized() + "\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	signers := parseSigners(t, got)
	for _, namespace := range []string{seal.NamespaceHold, seal.NamespaceRecord} {
		if err := signers.KeyAllowed("ann.example", ann, namespace, noon); err != nil {
			t.Error(err)
		}
	}
	if err := signers.KeyAllowed("ann.example", ann, "git", noon); err == nil {
		t.Error("a key that was added here counts outside this program")
	}
	second := newSigner(t, "ann.example").Public()
	again := must[[]byte](t)(seal.Append([]byte(got), "ann.example", second))
	if people := parseSigners(t, string(again)).PrincipalsFor(second, seal.NamespaceHold, noon); !slices.Equal(people, []string{"ann.example"}) {
		t.Errorf("a second key of a person belongs to %v", people)
	}
}

func TestAppendRefuses(t *testing.T) {
	ann, ben := newSigner(t, "ann.example").Public(), newSigner(t, "ben.example").Public()
	existing := "ann.example " + ann.Authorized() + "\n"
	for name, c := range map[string]struct {
		existing, principal string
		key                 seal.PublicKey
		kind                seal.Kind
	}{
		"same key, other name":   {existing, "ben.example", ann, seal.OtherName},
		"expired under another":  {"ann.example valid-before=\"20200101Z\" " + ann.Authorized(), "ben.example", ann, seal.OtherName},
		"same key, same name":    {existing, "ann.example", ann, seal.AlreadyTrusted},
		"same key, pattern":      {"*.example " + ann.Authorized(), "ben.example", ann, seal.AlreadyTrusted},
		"name in capitals":       {existing, "Ann.Example", ben, seal.OtherName},
		"control character":      {existing, "ben\n*", ben, seal.BadName},
		"pattern":                {existing, "*", ben, seal.BadName},
		"two names":              {existing, "ben,zoe", ben, seal.BadName},
		"fault in what is there": {existing + "ben.example\n", "ben.example", ben, seal.BadSignersFile},
		"no key":                 {existing, "ben.example", seal.PublicKey{}, seal.BadKey},
	} {
		t.Run(name, func(t *testing.T) {
			content, err := seal.Append([]byte(c.existing), c.principal, c.key)
			wantKind(t, err, c.kind)
			if content != nil {
				t.Error("something was returned beside the error")
			}
		})
	}
}

func TestAppendLeavesItsInputAlone(t *testing.T) {
	ann := newSigner(t, "ann.example").Public()
	roomy := append(make([]byte, 0, 4096), "# empty\n"...)
	must[[]byte](t)(seal.Append(roomy, "ann.example", ann))
	if rest := roomy[:100][8:]; strings.Trim(string(rest), "\x00") != "" {
		t.Errorf("Append wrote behind the content it was given: %q", rest)
	}
}
