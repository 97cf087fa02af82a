"""The command line: one file a command, each reads, calls and shows."""
