"""The command line: one command, one module."""
