package main

import (
	_ "embed"
	"io"

	"github.com/spf13/cobra"
)

// bashScript is our own: that of cobra takes C1.2@left for three words.
//
//go:embed completion.bash
var bashScript string

func (a *app) completionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "completion bash|zsh|fish|powershell", Short: "Print what makes a shell complete what you type", Args: takes(1, 1),
		Long: "Print the script that makes a shell complete commands, wings, jobs,\n" +
			"procedures, the lines of a wing and files when Tab is pressed. It asks this\n" +
			"program each time and writes nothing.",
		Example: "  source <(linewright completion bash)      in ~/.bashrc\n" +
			"  source <(linewright completion zsh)       in ~/.zshrc, behind compinit\n" +
			"  linewright completion fish | source       in ~/.config/fish/config.fish\n" +
			"  linewright completion powershell | Out-String | Invoke-Expression   in $PROFILE",
		RunE: func(c *cobra.Command, args []string) error {
			switch root := c.Root(); args[0] {
			case "bash":
				_, err := io.WriteString(a.out, bashScript)
				return err
			case "zsh":
				return root.GenZshCompletion(a.out)
			case "fish":
				return root.GenFishCompletion(a.out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(a.out)
			}
			return usage(c, "no script for the shell \""+args[0]+"\"")
		},
	}
}
