package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/linewright/engine/procedure"
	"example.org/linewright/engine/seal"
	"example.org/linewright/engine/session"
	"example.org/linewright/engine/source"
	"example.org/linewright/engine/store"
	"example.org/linewright/procedures"
)

// open opens the store. The caller closes it.
func (a *app) open() (*store.Store, error) {
	dir, err := a.folder()
	if err != nil {
		return nil, err
	}
	return store.Open(dir)
}

// folder is where the store lies; it may not be there yet.
func (a *app) folder() (string, error) {
	for _, dir := range []string{a.storeDir, a.env("LINEWRIGHT_STORE")} {
		if dir != "" {
			return dir, nil
		}
	}
	return store.DefaultDir()
}

// withDesk runs a command on an open store.
func (a *app) withDesk(do func(session.Desk) error) error {
	folder, err := a.open()
	if err != nil {
		return err
	}
	desk, err := a.desk(folder)
	if err != nil {
		return errors.Join(err, folder.Close())
	}
	return errors.Join(do(desk), folder.Close())
}

// withBench is withDesk for work, which somebody does. Lists and checks need no
// name.
func (a *app) withBench(do func(session.Desk) error) error {
	return a.withDesk(func(d session.Desk) error {
		if d.Who == "" {
			return errors.New("it is not known who is at the bench\nsay it with --as NAME or LINEWRIGHT_AS")
		}
		d.Progress = a.progress("reading jobs")
		return do(d)
	})
}

func (a *app) desk(folder *store.Store) (session.Desk, error) {
	files, err := procedureFiles(folder)
	if err != nil {
		return session.Desk{}, err
	}
	who, err := a.who(folder)
	if err != nil {
		return session.Desk{}, err
	}
	return session.Desk{Store: folder, Procedures: files, Who: who, Clock: time.Now, Agent: a.env("SSH_AUTH_SOCK"), Elsewhere: a.storeDir != ""}, nil
}

// procedureFiles gives the shipped procedures and the user's own.
func procedureFiles(folder *store.Store) ([]procedure.File, error) {
	files := procedures.Files()
	names, err := folder.Procedures()
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		data, err := folder.ReadProcedure(name)
		if err != nil {
			return nil, err
		}
		files = append(files, procedure.File{Name: folder.ProcedurePath(name), Data: data})
	}
	return files, nil
}

// who is the person at the bench: named, or the only one with a key here, or
// the user of this machine; "" where nothing says it.
func (a *app) who(folder *store.Store) (string, error) {
	for _, name := range []string{a.as, a.env("LINEWRIGHT_AS")} {
		if name != "" {
			return name, seal.CheckName(name)
		}
	}
	signers, err := folder.Signers()
	if err != nil {
		return "", err
	}
	if len(signers) == 1 {
		return signers[0], nil
	}
	for _, user := range []string{a.env("USER"), a.env("USERNAME"), a.env("LOGNAME")} {
		if name := fit(user); name != "" {
			return name, nil
		}
	}
	return "", nil
}

// fit makes a user's name one that a key can have: lower case letters, digits
// and hyphens.
func fit(user string) string {
	user = user[strings.LastIndexByte(user, '\\')+1:] // DOMAIN\user on Windows
	name := strings.Map(func(r rune) rune {
		if 'a' <= r && r <= 'z' || '0' <= r && r <= '9' {
			return r
		}
		return '-'
	}, strings.ToLower(user))
	name = strings.Trim(name, "-")
	return name[:min(len(name), 40)]
}

// result prints a result: as JSON where it is asked for, else as text.
func (a *app) result(value any, text func()) error {
	if !a.json {
		text()
		return nil
	}
	enc := json.NewEncoder(a.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(value)
}

// line prints one line of a result.
func (a *app) line(format string, args ...any) {
	fmt.Fprintln(a.out, source.Clean(fmt.Sprintf(format, args...)))
}
