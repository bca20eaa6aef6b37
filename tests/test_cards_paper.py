"""The printed cards in real programs: the PDF read with pdfplumber, the DOCX turned into pages by LibreOffice."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import docx
import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth  # type: ignore[import-untyped]

from briefing.outline.models import Outline
from briefing.pipeline import Briefed
from briefing.sources.folders import built_in
from briefing.write.cards_docx import MARGIN_MM, cards_docx
from briefing.write.cards_pdf import cards_pdf
from briefing.write.deck import Card, Deck, make_deck, needed_em
from briefing.write.documents import DOCUMENTS, Given, write_document
from briefing.write.pages_pdf import as_pdf
from briefing.write.sheets import PAPERS, Fitting, Paper, fit_paper, paper_of
from briefing.write.templates import Templates
from tests.conftest import DEMOS

pdfplumber = pytest.importorskip("pdfplumber", reason="pdfplumber is missing: the PDF cannot be read back")
needs_office = pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice (soffice) is missing")
needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler-utils (pdftotext) is missing")

MM = 72 / 25.4


def laid(outline: Outline, paper: Paper, distance: float = 3.0) -> tuple[Deck, Fitting]:
    fitting = fit_paper(paper, distance, needed_em=needed_em(outline))
    return make_deck(outline, fitting.frame), fitting


def words_of(card: Card) -> list[str]:
    # Drawn marks are no text.
    return [w for w in card.words.replace("→", " ").split() if w != "·"]


def test_the_capitals_are_as_tall_as_computed_and_stay_in_their_card(demos: dict[str, Briefed]) -> None:
    for paper in PAPERS:
        deck, fitting = laid(demos["slack-water"].outline, paper)
        content = cards_pdf(deck, paper, fitting)
        with pdfplumber.open(io.BytesIO(content)) as pdf:
            assert len(pdf.pages) == -(-len(deck.cards) // paper.on_a_sheet)
            page = pdf.pages[0]
            assert float(page.width) == pytest.approx(paper.sheet_width_mm * MM, abs=0.1)
            left = (paper.sheet_width_mm - paper.across * paper.width_mm) / 2
            top = (paper.sheet_height_mm - paper.down * paper.height_mm) / 2
            sizes = {round(c["size"], 2) for p in pdf.pages for c in p.chars}
            # The em of the text; its capitals are 0.668 of it (the font's own table, see the outside checks).
            assert round(fitting.em_mm * MM, 2) in sizes
            for number, page in enumerate(pdf.pages):
                inside = 0
                for place in range(min(paper.on_a_sheet, len(deck.cards) - number * paper.on_a_sheet)):
                    x0 = (left + place % paper.across * paper.width_mm) * MM
                    y0 = (top + place // paper.across * paper.height_mm) * MM
                    box = (x0, y0, x0 + paper.width_mm * MM, y0 + paper.height_mm * MM)
                    card = deck.cards[number * paper.on_a_sheet + place]
                    mine = [
                        c for c in page.chars
                        if c["x0"] >= box[0] + 3 * MM and c["x1"] <= box[2] - 3 * MM
                        and c["top"] >= box[1] - 1 and c["bottom"] <= box[3] + 1
                    ]  # fmt: skip
                    inside += len(mine)
                    text = "".join(c["text"] for c in mine if not c["text"].isspace())
                    for word in words_of(card):
                        assert word in text, (card.number, word)
                assert inside == len(page.chars), number + 1


def test_several_on_a_sheet_have_cut_marks(demos: dict[str, Briefed]) -> None:
    for paper in PAPERS:
        deck, fitting = laid(demos["long-swell"].outline, paper)
        with pdfplumber.open(io.BytesIO(cards_pdf(deck, paper, fitting))) as pdf:
            lines = pdf.pages[0].lines
        assert bool(lines) == (paper.on_a_sheet > 1), paper.key
        # Each stands on a cut, and none crosses the type of a card.
        xs = [
            (paper.sheet_width_mm / 2 + (n - paper.across / 2) * paper.width_mm) * MM for n in range(paper.across + 1)
        ]
        ys = [(paper.sheet_height_mm / 2 + (n - paper.down / 2) * paper.height_mm) * MM for n in range(paper.down + 1)]
        for line in lines:
            upright = abs(line["x0"] - line["x1"]) < 0.1
            at = line["x0"] if upright else line["top"]
            assert min(abs(at - c) for c in (xs if upright else ys)) < 0.5


def test_the_same_input_gives_the_same_bytes_and_both_fonts_are_inside(demos: dict[str, Briefed]) -> None:
    paper = paper_of("A4")
    deck, fitting = laid(demos["breakwater"].outline, paper)
    content = cards_pdf(deck, paper, fitting)
    assert content == cards_pdf(deck, paper, fitting)
    assert content.count(b"/FontFile2") == 2
    assert cards_docx(deck, paper, fitting) == cards_docx(deck, paper, fitting)


def test_arrows_boxes_and_unknown_letters_are_no_empty_shapes(brief_text: Callable[..., Briefed]) -> None:
    outline = brief_text("AMRAP 10:00\n  10 push-ups\n\n## Notes\n\nUp → down, Тяга, ☐ and ǎ.\n").outline
    paper = paper_of("A4")
    deck, fitting = laid(outline, paper)
    with pdfplumber.open(io.BytesIO(cards_pdf(deck, paper, fitting))) as pdf:
        text = "".join(p.extract_text() for p in pdf.pages)
        assert "→" not in text
        assert "☐" not in text
        assert any(len(p.curves) + len(p.lines) > 1 for p in pdf.pages)


@needs_poppler
@pytest.mark.parametrize("name", DEMOS)
def test_pdftotext_finds_the_words_of_each_card_on_its_page(
    name: str, demos: dict[str, Briefed], tmp_path: Path
) -> None:
    paper = paper_of("A4")
    deck, fitting = laid(demos[name].outline, paper)
    path = tmp_path / "cards.pdf"
    path.write_bytes(cards_pdf(deck, paper, fitting))
    _each_card_on_its_page(deck, path)


@needs_office
@needs_poppler
@pytest.mark.parametrize(
    ("name", "key"), [*((n, "A4") for n in DEMOS), ("slack-water", "A5"), ("breakwater", "letter")]
)
def test_libreoffice_makes_one_page_of_each_card(
    name: str, key: str, demos: dict[str, Briefed], tmp_path: Path
) -> None:
    paper = paper_of(key)
    deck, fitting = laid(demos[name].outline, paper)
    source = tmp_path / "cards.docx"
    source.write_bytes(cards_docx(deck, paper, fitting))
    _each_card_on_its_page(deck, _as_pdf(source, tmp_path))


@pytest.mark.parametrize("name", DEMOS)
def test_no_row_of_the_docx_breaks_where_the_font_that_it_names_stands_in(name: str, demos: dict[str, Briefed]) -> None:
    """The DOCX names Arial, whose advances are those of Helvetica (Adobe's metrics, in reportlab): no row is wider than its page.

    The fonts of the machine have no part in it.
    """
    paper = paper_of("A4")
    deck, fitting = laid(demos[name].outline, paper)
    whole = (paper.width_mm - 2 * MARGIN_MM) * MM
    for card in deck.cards:
        for row in (r for e in card.entries for r in e.rows):
            font = "Helvetica-Bold" if row.bold else "Helvetica"
            size = int(row.size_em * fitting.em_pt * 2) / 2
            indent = row.x_em * fitting.em_pt
            assert indent + stringWidth(row.text.replace("→", ">"), font, size) <= whole, (card.number, row.text)


def test_the_docx_has_styles_a_header_and_breaks_like_the_pdf(demos: dict[str, Briefed]) -> None:
    paper = paper_of("A4")
    deck, fitting = laid(demos["slack-water"].outline, paper)
    document = docx.Document(io.BytesIO(cards_docx(deck, paper, fitting)))
    assert document.sections[0].header.paragraphs[0].text == "Slack Water: cue cards"
    headings = [p for p in document.paragraphs if p.style is not None and p.style.name == "Heading 1"]
    assert len(headings) == len(deck.cards)
    rows = [r.text for c in deck.cards for e in c.entries for r in e.rows]
    cells = [p.text for t in document.tables for c in t.rows[0].cells for p in c.paragraphs]
    written = [p.text.split("\t")[-1] for p in document.paragraphs] + cells
    assert set(rows) <= set(written)
    bold = document.styles["Card must"].font
    assert bold.bold is True
    assert bold.name == "Atkinson Hyperlegible"


@pytest.mark.parametrize("name", DEMOS)
def test_every_prose_document_has_a_pdf_with_its_words(name: str, demos: dict[str, Briefed]) -> None:
    briefed = demos[name]
    given = Given(briefed.outline, briefed.plan.movements, Templates((built_in("templates"),)))
    for document in (d for d in DOCUMENTS if d.key in {"script", "handout", "filming", "setup"}):
        content = write_document(document, "pdf", given)
        assert content == write_document(document, "pdf", given)
        with pdfplumber.open(io.BytesIO(content)) as pdf:
            text = "".join("".join(p.extract_text(use_text_flow=True).split()) for p in pdf.pages)
            if document.dense or document.key == "setup":
                assert len(pdf.pages) == 1, document.key
            for page in pdf.pages:
                assert all(c["x0"] > 0 and c["x1"] < page.width and c["bottom"] < page.height for c in page.chars)
        if document.key == "script":
            for line in briefed.outline.lines:
                assert "".join(line.text.split()) in text, line.text
        if document.key == "setup":
            for words in (
                "hip to chest height",
                "loudest repetition",
                "quietest sentence",
                "cannot show the cards",
                "logos",
            ):
                assert words.replace(" ", "") in text
    assert re.search(
        r"%PDF", as_pdf("# Tide\n\n1. one\n2. two\n\n| a | b |\n| - | - |\n| 1 | ☐ → |\n", "t").decode("latin1")
    )


def _as_pdf(source: Path, folder: Path) -> Path:
    profile = f"-env:UserInstallation=file://{folder}/profile"
    subprocess.run(
        ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(folder), str(source)],
        check=True, capture_output=True, timeout=180,
    )  # fmt: skip
    return source.with_suffix(".pdf")


def _each_card_on_its_page(deck: Deck, path: Path) -> None:
    done = subprocess.run(["pdftotext", "-layout", str(path), "-"], check=True, capture_output=True, timeout=60)
    pages = done.stdout.decode().split("\f")[:-1]
    assert len(pages) == len(deck.cards)
    for card, page in zip(deck.cards, pages, strict=True):
        for word in words_of(card):
            assert word in page, (card.number, word, page)
