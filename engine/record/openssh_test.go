package record

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.org/linewright/engine/seal"
)

// The outside check of these tests: ssh-keygen of OpenSSH and sha256sum of
// GNU coreutils, by the commands that README.txt gives.

// needTool skips, or fails where the tools have to be there.
func needTool(t *testing.T, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err == nil {
		return
	}
	if os.Getenv("LINEWRIGHT_NEED_TOOLS") == "1" {
		t.Fatalf("%s is not installed and LINEWRIGHT_NEED_TOOLS=1", name)
	}
	t.Skipf("%s is not installed", name)
}

// inFolder runs a tool in a folder with some bytes on standard input.
func inFolder(dir string, stdin []byte, tool string, args ...string) (string, error) {
	cmd := exec.Command(tool, args...)
	cmd.Dir, cmd.Stdin = dir, bytes.NewReader(stdin)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func TestOpenSSHVerifiesAnExportedRecord(t *testing.T) {
	needTool(t, "ssh-keygen")
	w := sample(t, false)
	dir := w.export()
	trusted := filepath.Join(t.TempDir(), "trusted")
	if err := os.WriteFile(trusted, w.allowed(), 0o600); err != nil {
		t.Fatal(err)
	}
	verify := func(name, role string, message []byte) (string, error) {
		return inFolder(dir, message, "ssh-keygen", "-Y", "verify", "-f", trusted, "-I", name, "-n", seal.NamespaceRecord, "-s", SignatureName(role))
	}
	message := readFile(t, dir, NameJSON)
	for role, name := range map[string]string{"doer": "ann.example", "second": "bea.example", "pilot": "ann.example"} {
		if out, err := verify(name, role, message); err != nil {
			t.Errorf("%s as %s: %v\n%s", name, role, err, out)
		}
	}
	if out, err := verify("bea.example", "doer", message); err == nil {
		t.Errorf("another name is taken: %s", out)
	}
	if out, err := verify("ann.example", "doer", flipped(message, 100)); err == nil {
		t.Errorf("a changed record.json is taken: %s", out)
	}
}

// The commands stand in README.txt as a person would copy them.
func TestCommandsOfTheReadmeWork(t *testing.T) {
	needTool(t, "ssh-keygen")
	needTool(t, "sha256sum")
	needTool(t, "sh")
	w := sample(t, false)
	dir := w.export()
	trusted := filepath.Join(t.TempDir(), "trusted")
	if err := os.WriteFile(trusted, w.allowed(), 0o600); err != nil {
		t.Fatal(err)
	}
	readme := strings.ReplaceAll(string(readFile(t, dir, NameReadme)), "\\\n", "")
	ran := 0
	for _, l := range strings.Split(readme, "\n") {
		command, ok := strings.CutPrefix(l, "  ")
		if !ok || strings.HasPrefix(command, "linewright ") {
			continue
		}
		who := "ann.example"
		if strings.Contains(command, ".second.") {
			who = "bea.example"
		}
		command = strings.NewReplacer("TRUSTED", trusted, "NAME", who).Replace(command)
		if out, err := inFolder(dir, nil, "sh", "-c", command); err != nil {
			t.Errorf("%s: %v\n%s", command, err, out)
		}
		ran++
	}
	if ran != 4 {
		t.Errorf("%d commands in README.txt, want 4", ran)
	}
}

func TestVerifyTakesASignatureOfOpenSSH(t *testing.T) {
	needTool(t, "ssh-keygen")
	w := sample(t, false)
	r := w.build()
	keys := t.TempDir()
	if out, err := inFolder(keys, nil, "ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", "key"); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	sig, err := inFolder(keys, r.JSON, "ssh-keygen", "-q", "-Y", "sign", "-f", "key", "-n", seal.NamespaceRecord)
	if err != nil {
		t.Fatalf("%v\n%s", err, sig)
	}
	key, _, err := seal.ParsePublicKey(readFile(t, keys, "key.pub"))
	if err != nil {
		t.Fatal(err)
	}
	allowed, err := seal.Append(w.allowed(), "cas.example", key)
	if err != nil {
		t.Fatal(err)
	}
	closing := w.closing(r)
	closing["club"] = []byte(sig)
	dir := filepath.Join(t.TempDir(), "record")
	if err := Export(dir, r, closing, allowed); err != nil {
		t.Fatal(err)
	}
	if report := check(t, os.DirFS(dir), allowed); report.Status != Verified || report.Closing[0].Names[0] != "cas.example" {
		t.Errorf("status %q:\n%s", report.Status, report.Words())
	}
}

// The canonical form is one line without a line end: RFC 8785 section 3.2.1.
func TestRecordJSONIsCanonical(t *testing.T) {
	json := sample(t, false).build().JSON
	again, err := canonical(json)
	if err != nil {
		t.Fatal(err)
	}
	wantBytes(t, NameJSON, json, again)
	if bytes.ContainsAny(json, "\n\t") {
		t.Error("record.json holds white space between its parts")
	}
}
