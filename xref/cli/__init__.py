"""The command line: parse, call one service, render."""
