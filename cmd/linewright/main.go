// Command linewright leads through work on the suspension lines of a soft wing
// and leaves a signed record. This package holds flags, wiring and exit codes:
// one file a noun.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	os.Exit(Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv))
}
