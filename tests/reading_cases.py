"""Reads the text cases in `tests/cases/*.md`: a heading, a fenced input, a fenced expectation.

## what it shows
```
the input
```
```
the expectation
```
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

CASES = Path(__file__).parent / "cases"
_CASE = re.compile(
    r"^## (?P<title>.+?)\n+```\w*\n(?P<given>.*?)\n?```\n+```\w*\n(?P<expected>.*?)\n?```", re.MULTILINE | re.DOTALL
)


@dataclass(frozen=True)
class Case:
    title: str
    given: str
    expected: str


def read_cases(name: str) -> list[Case]:
    text = (CASES / name).read_text(encoding="utf-8")
    found = [Case(m["title"].strip(), m["given"], m["expected"]) for m in _CASE.finditer(text)]
    headings = len(re.findall(r"^## ", text, re.MULTILINE))
    assert len(found) == headings, f"{name}: {headings} headings, {len(found)} cases: a fence is missing"
    return found
