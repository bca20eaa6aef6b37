"""What a board can have wrong, in rows of the same shape as `briefing/codes.py`; an example is a board as it stands in a file."""

from __future__ import annotations

from briefing.codes import Code

CODES: tuple[Code, ...] = ()
