package main

import (
	"bufio"
	"bytes"
	"fmt"
	"strings"

	"example.org/linewright/engine/job"
	"example.org/linewright/procedures"
)

// answers are the sample answers of the demo, in the order in which line mode
// asks for them. The file has one "key = answer" a line and comments after #;
// the key is that of the step, so that the bench can offer the answer too. A key
// stands as often as lines are typed at its step; an answer that is empty is a
// bare Enter. The name of the second person has the key "second", what is typed
// behind the last step the key "end".
type answers []answer

type answer struct{ key, text string }

// The keys of what is typed at no step.
const (
	asSecond = "second"
	atEnd    = "end"
)

// readAnswers reads the file that was named, else the sample answers.
func readAnswers(file string) (answers, error) {
	var data []byte
	var err error
	if file != "" {
		data, err = readFile(file)
	} else {
		file = sampleAnswers
		data, err = procedures.Sample.ReadFile(file)
	}
	if err != nil {
		return nil, err
	}
	return parseAnswers(file, data)
}

func parseAnswers(file string, data []byte) (answers, error) {
	var list answers
	lines := bufio.NewScanner(bytes.NewReader(data))
	for n := 1; lines.Scan(); n++ {
		text := strings.TrimSpace(lines.Text())
		if text == "" || text[0] == '#' {
			continue
		}
		key, value, ok := strings.Cut(text, "=")
		if key = strings.TrimSpace(key); !ok || key == "" {
			return nil, fmt.Errorf("%s:%d: this is no answer\nwrite key = answer, or # before a comment", file, n)
		}
		list = append(list, answer{key, strings.TrimSpace(value)})
	}
	return list, lines.Err()
}

// lines gives the answers as they are typed.
func (l answers) lines() string {
	var b strings.Builder
	for _, a := range l {
		b.WriteString(a.text + "\n")
	}
	return b.String()
}

// keyOf gives the key of what a card wants next.
func keyOf(c job.Card) string {
	switch {
	case len(c.Fields) == 0:
		return atEnd
	case c.Second && c.Looker == "":
		return asSecond
	}
	return c.Fields[c.At].Key
}

// offer gives the answer for the field that is due: of several readings the one
// whose turn it is. It is false where a bare Enter is the answer.
func (l answers) offer(c job.Card) (string, bool) {
	if len(c.Fields) == 0 {
		return "", false
	}
	key, turn := keyOf(c), 0
	if s := c.Fields[c.At].Scale; s != nil {
		turn = len(s.Readings)
	}
	for _, a := range l {
		if a.key != key {
			continue
		}
		if turn == 0 {
			return a.text, a.text != ""
		}
		turn--
	}
	return "", false
}
