"""DOCX files opened again by python-docx, an independent reader, hold the same words as the Markdown."""

from __future__ import annotations

import io
import zipfile

from briefing.pipeline import Briefed
from briefing.write.markdown import plain_words
from briefing.write.pages_docx import as_docx
from tests.test_documents import docx_words, written

SAMPLE = "# Title\n\nA *line* with **bold** words.\n\n- one\n  - two\n\n1. first\n\n| a | b |\n| --- | --- |\n| c | d |\n\n> quoted\n"


def test_the_same_words() -> None:
    assert docx_words(as_docx(SAMPLE, "x")) == plain_words(SAMPLE)


def test_script_and_handout(demos: dict[str, Briefed]) -> None:
    for briefed in demos.values():
        assert docx_words(written("script", "docx", briefed)) == plain_words(written("script", "md", briefed).decode())


def test_real_styles_and_fixed_dates(demos: dict[str, Briefed]) -> None:
    import docx  # noqa: PLC0415

    content = written("script", "docx", demos["breakwater"])
    document = docx.Document(io.BytesIO(content))
    assert {p.style.name for p in document.paragraphs if p.style} >= {"Heading 1", "Heading 2", "Normal"}
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert {i.date_time for i in archive.infolist()} == {(2020, 1, 1, 0, 0, 0)}
