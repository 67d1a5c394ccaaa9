"""The headless command's subcommands, one module each."""
