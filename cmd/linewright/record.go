package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/linewright/engine/record"
	"example.org/linewright/engine/session"
)

func (a *app) recordCommand() *cobra.Command {
	var dir, role, signers string
	export := &cobra.Command{
		Use: "export JOB -o FOLDER", Short: "Write the record of a closed job to a new folder", Args: takes(1, 1),
		Example: "  linewright record export 1 -o barn-record",
		RunE: func(c *cobra.Command, args []string) error {
			if dir == "" {
				return usage(c, "a folder is wanted: -o FOLDER")
			}
			return a.withDesk(func(d session.Desk) error { return a.exportRecord(d, args[0], dir) })
		},
	}
	export.Flags().StringVarP(&dir, "output", "o", "", "`FOLDER` to write; it must not be there yet, or be empty")
	sign := &cobra.Command{
		Use: "sign JOB", Short: "Sign the record of a closed job, as the one named by --as", Args: takes(1, 1),
		Example: "  linewright --as ann record sign 1 --role doer\n" +
			"  linewright --as bea record sign 1 --role second",
		RunE: func(c *cobra.Command, args []string) error {
			if !slices.Contains(roles, role) {
				return usage(c, fmt.Sprintf("%q is not a role: %s", role, strings.Join(roles, ", ")))
			}
			return a.withBench(func(d session.Desk) error { return a.signRecord(c.Context(), d, args[0], role) })
		},
	}
	sign.Flags().StringVar(&role, "role", roles[0], "who you are to the job, `"+strings.Join(roles, "|")+"`")
	verify := &cobra.Command{
		Use: "verify FOLDER", Short: "Check an exported record; status 1 if it is not verified", Args: takes(1, 1),
		Example: "  linewright record verify barn-record\n" +
			"  linewright record verify barn-record --signers trusted_signers",
		Long: "Check an exported record: every file, the chain of the journal, the signed\n" +
			"holds and the closing signatures. Whose key is whose is read from --signers,\n" +
			"else from the people trusted in the store, never from the folder itself.",
		RunE: func(_ *cobra.Command, args []string) error { return a.verifyRecord(args[0], signers) },
	}
	verify.Flags().StringVar(&signers, "signers", "", "allowed_signers `FILE` that you trust")
	return noun("record", "Records of closed jobs", export, sign, verify)
}

// roles lists who closes a record.
var roles = []string{"doer", "second", "pilot"}

// exportJSON is an export as --json prints it.
type exportJSON struct {
	Job        int      `json:"job"`
	Folder     string   `json:"folder"`
	SHA256     string   `json:"record_sha256"`
	Signatures []string `json:"signatures"`
	OpenItems  int      `json:"open_items"`
}

func (a *app) exportRecord(d session.Desk, job, dir string) error {
	no, err := number(job)
	if err != nil {
		return err
	}
	row, err := export(d, no, dir)
	if err != nil {
		return err
	}
	return a.result(row, func() {
		if len(row.Signatures) == 0 {
			a.line("Nobody has signed this record yet: linewright record sign %d --role doer, then export it anew.", no)
		} else {
			a.line("Signed as: %s.", strings.Join(row.Signatures, ", "))
		}
		a.line("%s.", count(row.OpenItems, "open item", "open items"))
		a.line("The record is in %s", row.Folder)
	})
}

func export(d session.Desk, no int, dir string) (exportJSON, error) {
	r, err := build(d, no)
	if err != nil {
		return exportJSON{}, err
	}
	closing, err := d.Store.ReadClosing(no)
	if err != nil {
		return exportJSON{}, err
	}
	allowed, err := d.Store.AllowedSigners()
	if err != nil {
		return exportJSON{}, err
	}
	if err := record.Export(dir, r, closing, allowed); err != nil {
		return exportJSON{}, err
	}
	sum := sha256.Sum256(r.JSON)
	signed := slices.Sorted(maps.Keys(closing))
	return exportJSON{no, dir, hex.EncodeToString(sum[:]), append([]string{}, signed...), len(r.Content.Open)}, nil
}

func (a *app) signRecord(ctx context.Context, d session.Desk, job, role string) error {
	no, err := number(job)
	if err != nil {
		return err
	}
	s, err := d.Open(no)
	if err != nil {
		return err
	}
	p, err := a.closeAs(ctx, d, s, role)
	if err = errors.Join(err, s.Close()); err != nil {
		return err
	}
	key := p.Signer.Public()
	value := map[string]any{"job": no, "role": role, "name": p.Name, "fingerprint": key.Fingerprint(), "kept": p.Signer.Custody()}
	return a.result(value, func() {
		a.line("Record of job %d signed by %s as %s, key %s, kept: %s.", no, p.Name, role, key.Fingerprint(), p.Signer.Custody())
	})
}

// closeAs signs the record with the key of the person at the bench.
func (a *app) closeAs(ctx context.Context, d session.Desk, s *session.Session, role string) (*session.Person, error) {
	if s.Job().Closed == nil {
		return nil, session.ErrNotClosed
	}
	r, err := build(d, s.No())
	if err != nil {
		return nil, err
	}
	p, err := a.in.Unlock(ctx, a.errs, d, d.Who)
	if err != nil {
		return nil, err
	}
	defer p.Signer.Forget()
	return p, s.SignRecord(role, p, r.JSON)
}

func (a *app) verifyRecord(dir, signers string) error {
	allowed, err := a.trusted(signers)
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("%s: the folder cannot be opened\ngive the folder that record export wrote", dir)
	}
	report, err := record.Verify(root.FS(), allowed)
	if err = errors.Join(err, root.Close()); err != nil {
		return err
	}
	if err := a.result(reportRow(report), func() { a.reportLines(report) }); err != nil {
		return err
	}
	if report.Status != record.Verified {
		return errNo
	}
	return nil
}

// trusted reads whose key is whose: the file that was named, else the store's,
// if there is a store. Verifying makes none.
func (a *app) trusted(file string) ([]byte, error) {
	if file != "" {
		return readFile(file)
	}
	dir, err := a.folder()
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(filepath.Join(dir, "store.toml")); err != nil {
		return nil, nil
	}
	folder, err := a.open()
	if err != nil {
		return nil, err
	}
	data, err := folder.AllowedSigners()
	return data, errors.Join(err, folder.Close())
}

// reportJSON is a check as --json prints it.
type reportJSON struct {
	Status   string          `json:"status"`
	Job      int             `json:"job,omitempty"`
	Wing     string          `json:"wing,omitempty"`
	Demo     bool            `json:"demo,omitempty"`
	Asked    bool            `json:"trusted_keys_given"`
	Problems []problemJSON   `json:"problems"`
	Closing  []signatureJSON `json:"closing_signatures"`
	Holds    []signatureJSON `json:"holds"`
}

type problemJSON struct {
	Code string `json:"code"`
	File string `json:"file"`
	Line int    `json:"line,omitempty"`
	What string `json:"what"`
	Do   string `json:"do"`
}

type signatureJSON struct {
	File        string   `json:"file"`
	Line        int      `json:"line,omitempty"`
	Role        string   `json:"role"`
	Fingerprint string   `json:"fingerprint"`
	Kept        string   `json:"kept,omitempty"`
	Names       []string `json:"names"`
	Trusted     bool     `json:"trusted"`
}

func reportRow(r record.Report) reportJSON {
	row := reportJSON{
		Status: string(r.Status), Job: r.Job, Wing: r.Wing, Demo: r.Demo, Asked: r.Asked,
		Problems: []problemJSON{}, Closing: signatureRows(r.Closing), Holds: signatureRows(r.Holds),
	}
	for _, p := range r.Problems {
		what, do := p.Words()
		row.Problems = append(row.Problems, problemJSON{string(p.Code), p.File, p.Line, what, do})
	}
	return row
}

func signatureRows(all []record.Signature) []signatureJSON {
	rows := []signatureJSON{}
	for _, s := range all {
		rows = append(rows, signatureJSON{s.File, s.Line, s.Role, s.Fingerprint, s.Custody, append([]string{}, s.Names...), s.Trusted})
	}
	return rows
}

func (a *app) reportLines(r record.Report) {
	for _, p := range r.Problems {
		what, do := p.Words()
		a.line("%s", what)
		if do != "" {
			a.line("  %s", do)
		}
	}
	for _, s := range r.Closing {
		a.line("Signed as %s: %s", s.Role, signer(s))
	}
	for _, s := range r.Holds {
		a.line("Hold, entry %d, as %s: %s", s.Line, s.Role, signer(s))
	}
	if !r.Asked {
		a.line("No trusted keys were given: nobody says whose these keys are. Give --signers FILE.")
	}
	if r.Demo {
		a.line("Sample data: this says nothing about any wing.")
	}
	a.line("%s: job %d, %s", strings.ToUpper(string(r.Status)), r.Job, r.Wing)
}

func signer(s record.Signature) string {
	text := s.Fingerprint
	if len(s.Names) > 0 {
		text = strings.Join(s.Names, ", ") + ", " + text
	}
	if s.Custody != "" {
		text += ", kept: " + s.Custody
	}
	if !s.Trusted {
		text += ", not vouched for"
	}
	return text
}
