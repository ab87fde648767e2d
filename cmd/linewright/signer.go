package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/store"
)

func (a *app) signerCommand() *cobra.Command {
	var k newKey
	create := &cobra.Command{
		Use: "new NAME", Short: "Make a key for a person, or take an existing one", Args: takes(1, 1),
		Example: "  linewright signer new ann",
		Long: "Make an Ed25519 key for a person and trust it. The pass phrase is asked for\n" +
			"twice. Without a terminal only --no-passphrase makes one. With --from FILE an\n" +
			"existing OpenSSH key is taken: a private key file is copied as it is; of a\n" +
			".pub file only that half is kept, and ssh-agent has to hold the other.",
		RunE: func(c *cobra.Command, args []string) error {
			return a.withStore(func(s *store.Store) error { return a.newSigner(c.Context(), s, args[0], k) })
		},
	}
	create.Flags().StringVar(&k.from, "from", "", "existing key `FILE`, or the .pub file of a key in ssh-agent")
	create.Flags().BoolVar(&k.open, "no-passphrase", false, "whoever can read the disk can then sign in this name; every record says so")
	create.MarkFlagsMutuallyExclusive("from", "no-passphrase")
	return noun("signer", "Keys, and whose they are", create,
		&cobra.Command{Use: "list", Short: "The keys of the store and the people who are trusted", Args: takes(0, 0), RunE: func(*cobra.Command, []string) error {
			return a.withStore(a.listSigners)
		}},
		&cobra.Command{
			Use: "trust PERSON [FILE.pub]", Short: "Trust a key as that person's; without a file the one in the store", Args: takes(1, 2),
			Example: "  linewright signer trust bea bea.pub",
			Long: "Trust a key as that person's. Ask the person for the fingerprint by another\n" +
				"way first: whoever can write this file says whose key is whose.",
			RunE: func(_ *cobra.Command, args []string) error {
				return a.withStore(func(s *store.Store) error { return a.trustSigner(s, args) })
			},
		},
	)
}

// newKey says where a new key comes from.
type newKey struct {
	from string // an existing file
	open bool   // without pass phrase
}

func (a *app) withStore(do func(*store.Store) error) error {
	folder, err := a.open()
	if err != nil {
		return err
	}
	return errors.Join(do(folder), folder.Close())
}

// newSigner makes or takes a key. That it can be trusted is found out before
// anything is written.
func (a *app) newSigner(ctx context.Context, s *store.Store, name string, k newKey) error {
	if err := seal.CheckName(name); err != nil {
		return err
	}
	var private, public []byte
	var err error
	switch {
	case k.from != "":
		private, public, err = existingKey(name, k.from)
	case k.open:
		private, public, err = seal.NewKey(name, nil)
	default:
		private, public, err = a.madeKey(ctx, name)
	}
	if err != nil {
		return err
	}
	key, _, err := seal.ParsePublicKey(public)
	if err != nil {
		return err
	}
	allowed, err := trusting(s, name, key)
	if err != nil {
		return err
	}
	if err := s.WriteSigner(name, private, public); err != nil {
		return err
	}
	if err := s.WriteAllowedSigners(allowed); err != nil {
		return fmt.Errorf("%w\nthe key is written; trust it with: linewright signer trust %s", err, name)
	}
	row := signerJSON{Name: name, Fingerprint: key.Fingerprint(), KeyType: key.Type(), Kept: kept(private), Trusted: true}
	return a.result(row, func() {
		a.line("%s: key %s, kept: %s. It is trusted in this store.", name, row.Fingerprint, row.Kept)
	})
}

// trusting gives allowed_signers with the key added; one that is in it already
// is no fault.
func trusting(s *store.Store, name string, key seal.PublicKey) ([]byte, error) {
	old, err := s.AllowedSigners()
	if err != nil {
		return nil, err
	}
	added, err := seal.Append(old, name, key)
	if errors.Is(err, seal.AlreadyTrusted) {
		return old, nil
	}
	return added, err
}

// madeKey makes a key under a pass phrase that is asked for twice.
func (a *app) madeKey(ctx context.Context, name string) (private, public []byte, err error) {
	first, err := a.in.Hidden(ctx, a.errs, "Pass phrase for the key of "+name+" (not shown; empty for none):")
	if err != nil {
		return nil, nil, err
	}
	second, err := a.in.Hidden(ctx, a.errs, "The same again:")
	if err != nil {
		return nil, nil, err
	}
	same := bytes.Equal(first, second)
	clear(second)
	if !same {
		clear(first)
		return nil, nil, errors.New("the two pass phrases differ\ntry again; no key was made")
	}
	if len(first) == 0 {
		if err := a.sureWithout(ctx); err != nil {
			return nil, nil, err
		}
	}
	return seal.NewKey(name, first)
}

// sureWithout warns before a key without pass phrase is made.
func (a *app) sureWithout(ctx context.Context) error {
	fmt.Fprintln(a.errs, "Without a pass phrase whoever can read this disk can sign in this name.\n"+
		"Every record that it signs says so. Type yes to make it so:")
	answer, err := a.in.Line(ctx)
	if err != nil {
		return err
	}
	if answer != "yes" {
		return errors.New("no key was made\nrun it again and give a pass phrase")
	}
	return nil
}

// existingKey reads a private key file, or a .pub file whose other half an
// agent holds.
func existingKey(name, file string) (private, public []byte, err error) {
	data, err := readFile(file)
	if err != nil {
		return nil, nil, err
	}
	if key, _, err := seal.ParsePublicKey(data); err == nil {
		return nil, []byte(key.Authorized() + " " + name + "\n"), nil
	}
	parsed, err := seal.ParseKeyFile(data)
	if err != nil {
		return nil, nil, err
	}
	return data, []byte(parsed.Public().Authorized() + " " + name + "\n"), nil
}

// signerJSON is a key as --json prints it.
type signerJSON struct {
	Name        string `json:"name"`
	Fingerprint string `json:"fingerprint"`
	KeyType     string `json:"key_type"`
	Kept        string `json:"kept"` // "pass phrase", "unencrypted", "agent", "elsewhere"
	Trusted     bool   `json:"trusted"`
}

// kept says how a private half is kept.
func kept(private []byte) string {
	if private == nil {
		return string(seal.InAgent)
	}
	file, err := seal.ParseKeyFile(private)
	switch {
	case err != nil:
		return "a file that cannot be read"
	case file.Encrypted():
		return string(seal.PassPhrase)
	}
	return string(seal.Unencrypted)
}

func (a *app) listSigners(s *store.Store) error {
	rows, err := signers(s)
	if err != nil {
		return err
	}
	return a.result(rows, func() {
		if len(rows) == 0 {
			a.line("There is no key yet. Make one: linewright signer new NAME")
		}
		for _, r := range rows {
			trusted := "trusted"
			if !r.Trusted {
				trusted = "NOT trusted"
			}
			a.line("%s: %s %s, kept: %s, %s", r.Name, r.KeyType, r.Fingerprint, r.Kept, trusted)
		}
	})
}

// signers lists the keys of the store, then the people who are trusted and whose
// keys lie elsewhere.
func signers(s *store.Store) ([]signerJSON, error) {
	data, err := s.AllowedSigners()
	if err != nil {
		return nil, err
	}
	allowed, err := seal.ParseAllowedSigners(data)
	if err != nil {
		return nil, err
	}
	names, err := s.Signers()
	if err != nil {
		return nil, err
	}
	rows := []signerJSON{}
	here := map[seal.PublicKey]bool{}
	for _, name := range names {
		private, public, err := s.ReadSigner(name)
		if err != nil {
			return nil, err
		}
		key, _, err := seal.ParsePublicKey(public)
		if err != nil {
			return nil, fmt.Errorf("the key of %s: %w", name, err)
		}
		here[key] = true
		rows = append(rows, signerJSON{name, key.Fingerprint(), key.Type(), kept(private), gives(allowed, key, name)})
	}
	for _, e := range allowed.Entries {
		if here[e.Key] {
			continue
		}
		for _, name := range e.Principals {
			rows = append(rows, signerJSON{name, e.Key.Fingerprint(), e.Key.Type(), "elsewhere", true})
		}
	}
	return rows, nil
}

// gives reports whether some line gives that key to that name.
func gives(allowed *seal.AllowedSigners, key seal.PublicKey, name string) bool {
	for _, e := range allowed.Entries {
		if e.Key != key {
			continue
		}
		for _, p := range e.Principals {
			if p == name {
				return true
			}
		}
	}
	return false
}

func (a *app) trustSigner(s *store.Store, args []string) error {
	name := args[0]
	var public []byte
	var err error
	if len(args) == 2 {
		public, err = readFile(args[1])
	} else {
		_, public, err = s.ReadSigner(name)
	}
	if err != nil {
		return err
	}
	key, _, err := seal.ParsePublicKey(public)
	if err != nil {
		return err
	}
	old, err := s.AllowedSigners()
	if err != nil {
		return err
	}
	added, err := seal.Append(old, name, key)
	if err != nil {
		return err
	}
	if err := s.WriteAllowedSigners(added); err != nil {
		return err
	}
	row := signerJSON{Name: name, Fingerprint: key.Fingerprint(), KeyType: key.Type(), Kept: "elsewhere", Trusted: true}
	return a.result(row, func() {
		a.line("%s is trusted with the key %s.", name, row.Fingerprint)
		a.line("Compare this fingerprint with the one that %s reads to you.", name)
	})
}
