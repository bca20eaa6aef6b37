"""A whiteboard becomes a timed briefing: outline, script, cue cards, filming list and handout."""

__version__ = "0.1.0"
