package store

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Compiled when they are first asked for: the start of the program asks for none.
var (
	idShape = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,40}$`) })
	// Windows keeps these names for devices, with any ending.
	deviceName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`) })
)

// isSHA reports whether a text is a SHA-256 in lower case hex digits.
func isSHA(text string) bool { return len(text) == 64 && strings.Trim(text, "0123456789abcdef") == "" }

// photoSHA gives the SHA-256 that a photo is named by; ok is false where the name
// is not that of a photo.
func photoSHA(name string) (sha string, ok bool) {
	sha, ext, _ := strings.Cut(name, ".")
	return sha, isSHA(sha) && slices.Contains([]string{"jpg", "png", "heic"}, ext)
}

// checkID refuses what is not fit for a file name on every disk. what names the
// thing in the message.
func checkID(what, id string) error {
	if idShape().MatchString(id) && !deviceName().MatchString(id) {
		return nil
	}
	return &Error{
		What: fmt.Sprintf("%q cannot be the %s", clip(id), what),
		Do:   "take up to 41 lower case letters, digits and hyphens, a letter or digit first",
	}
}

func checkSHA(sha string) error {
	if isSHA(sha) {
		return nil
	}
	return &Error{
		What: fmt.Sprintf("%q is not a SHA-256", clip(sha)),
		Do:   "give 64 lower case hex digits",
	}
}

// checkFileName refuses a name that would leave its folder or that a terminal
// cannot show.
func checkFileName(name, ext string) error {
	ok := path.Ext(name) == ext && len(name) > len(ext) && len(name) <= 120 &&
		name[0] != '.' && !strings.ContainsAny(name, `/\:`) && printable(name)
	if ok {
		return nil
	}
	return &Error{
		What: fmt.Sprintf("%q is not a file name to use here", clip(name)),
		Do:   "rename the file: letters, digits, spaces and hyphens, then " + ext,
	}
}

func printable(s string) bool {
	return utf8.ValidString(s) && strings.IndexFunc(s, hidden) < 0
}

// hidden reports whether a rune is a control or formatting character or not a
// character at all. None of them may reach a terminal from a file.
func hidden(r rune) bool { return !unicode.IsGraphic(r) || r == utf8.RuneError }

// clean replaces what a terminal must not get.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if hidden(r) {
			return '?'
		}
		return r
	}, s)
}

// clip shortens a text for a message.
func clip(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "..."
}

func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
