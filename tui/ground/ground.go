// Package ground settles what lipgloss would else ask the terminal for.
//
// Importing bubbletea asks for the terminal's background colour in an init
// function and waits for an answer that some terminals never give. This
// package imports lipgloss alone and its path sorts before bubbletea's, so its
// init runs first (the Go specification orders ready packages by import path)
// and the question is never put. Every package that imports bubbletea imports
// this one. Nothing in the program chooses a colour by the background.
package ground

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
