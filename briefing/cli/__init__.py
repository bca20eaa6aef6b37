"""The commands: click for the words, rich for the terminal."""
