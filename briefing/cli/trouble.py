"""What is said when the machine, or the program itself, goes wrong: one sentence, never a traceback."""

from __future__ import annotations

import errno
import sys
import tempfile
import traceback

from briefing import __version__
from briefing.problems import plain

EXIT_INPUT, EXIT_USE, EXIT_MACHINE, EXIT_STOPPED = 1, 2, 3, 130
# A name that no file can have is a mistake of whoever wrote it, not of the machine.
_NAMES = {errno.ENAMETOOLONG: "this name is too long for a file", errno.ELOOP: "this is a link that leads to itself"}


def said_of(error: BaseException) -> tuple[str, int]:
    """Give the sentence for what was raised and the exit status; a bug of ours is written into a log file that the sentence names."""
    if isinstance(error, OSError):
        where = plain(f' "{_short(str(error.filename))}"') if error.filename else ""
        if error.errno in _NAMES:
            return f"{_NAMES[error.errno]}:{where}", EXIT_INPUT
        return f"the machine says no:{where} {(error.strerror or str(error)).lower()}", EXIT_MACHINE
    if isinstance(error, MemoryError):
        return "the machine says no: there is not enough memory for this", EXIT_MACHINE
    log = _log(error)
    written = f"what happened is written in {log}" if log else "there is no place to write down what happened"
    return f"something is wrong in briefing itself; {written}", EXIT_MACHINE


def _short(name: str) -> str:
    return name if len(name) <= 80 else f"{name[:40]}…{name[-20:]}"


def _log(error: BaseException) -> str | None:
    """Write down a bug; None where no folder takes it."""
    words = "".join(traceback.format_exception(error))
    try:
        with tempfile.NamedTemporaryFile(
            "w", prefix="briefing-", suffix=".log", delete=False, encoding="utf-8", errors="backslashreplace"
        ) as log:
            log.write(f"briefing {__version__}, Python {sys.version}\n{' '.join(sys.argv)}\n\n{words}")
            return plain(log.name)
    except OSError:
        return None
