"""The cards on screen in a real browser: Debian's Chromium through Playwright, from a file, with the network off."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from importlib import resources
from pathlib import Path
from typing import Any

import pytest

from briefing.pipeline import Briefed
from briefing.settings.models import Screen
from briefing.sources.folders import built_in
from briefing.write.cards import PLAIN_FRAME, cards_html, screen_decks
from briefing.write.palette import contrast
from briefing.write.templates import Templates
from briefing.write.type import face, size_mm, width_em
from tests.conftest import DEMOS

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or ""
playwright = pytest.importorskip(
    "playwright.sync_api", reason="playwright is missing: the cards cannot be tried in a browser"
)
pytestmark = pytest.mark.skipif(not CHROMIUM, reason="chromium is missing: the cards cannot be tried in a browser")

SIZES = {
    "phone": (390, 844),
    "phone on its side": (844, 390),
    "tablet": (820, 1180),
    "tablet on its side": (1180, 820),
    "laptop": (1280, 800),
}
NASTY = '</script><script>window.hurt = 1</script><img src=x onerror="window.hurt = 1">'


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as p:
        found = p.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture(scope="module")
def pages(demos: dict[str, Briefed], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("cards")
    out = {}
    for name in DEMOS:
        out[name] = folder / f"{name}.html"
        out[name].write_text(cards_html(demos[name].outline, Templates((built_in("templates"),))), encoding="utf-8")
    return out


Open = Callable[..., Any]


@pytest.fixture
def show(browser: Any, pages: dict[str, Path]) -> Iterator[Open]:
    """Open a demo's cards at a size; the network is off, and the page may not ask for anything or fail."""
    contexts = []
    failures: list[str] = []

    def run(
        name: str = "slack-water", size: tuple[int, int] = (1280, 800), path: Path | None = None, **more: Any
    ) -> Any:
        context = browser.new_context(viewport={"width": size[0], "height": size[1]}, offline=True, **more)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda e: failures.append(str(e)))
        page.on("console", lambda m: failures.append(m.text) if m.type == "error" else None)
        page.on("request", lambda r: None if r.url.startswith(("file:", "data:", "blob:")) else failures.append(r.url))
        page.goto(f"file://{path or pages[name]}")
        page.evaluate("document.fonts.ready")
        return page

    yield run
    for context in contexts:
        context.close()
    assert not failures


def at(page: Any) -> int:
    return int(page.evaluate("cards.index"))


def words(page: Any) -> str:
    return str(page.evaluate("document.querySelector('.body').innerText"))


# What leaves its place: rows and feet out of the stage, keys out of the window, an entry into head or foot, the page itself.
OUTSIDE = """() => {
  const out = [], stage = document.getElementById("stage").getBoundingClientRect();
  const room = { left: 0, top: 0, right: innerWidth, bottom: innerHeight };
  for (const e of document.querySelectorAll(".row, .foot p, .left, .side, .about, .keys button, .bar h1, .bar button, .warn")) {
    if (e.hidden || getComputedStyle(e).visibility === "hidden") continue;
    const r = e.getBoundingClientRect(), l = e.closest("#stage") ? stage : room;
    const beside = r.left < l.left - 1 || r.right > l.right + 1;
    if (r.width && (beside || r.top < l.top - 1 || r.bottom > l.bottom + 1)) out.push(e.className + ": " + e.textContent);
  }
  const place = (name) => document.querySelector(name).getBoundingClientRect(), foot = place(".foot"), signs = place(".signs");
  for (const e of document.querySelectorAll(".entry")) {
    const r = e.getBoundingClientRect();
    if (r.bottom > foot.top + 1 || r.top < signs.bottom - 1) out.push("over: " + e.textContent);
  }
  const doc = document.documentElement;
  if (doc.scrollWidth > innerWidth || doc.scrollHeight > innerHeight) out.push("the page scrolls");
  return out;
}"""


@pytest.mark.parametrize("size", SIZES.values(), ids=list(SIZES))
@pytest.mark.parametrize("name", DEMOS)
def test_nothing_overflows_on_any_card(name: str, size: tuple[int, int], show: Open) -> None:
    page = show(name, size)
    for density in ("phrases", "sentences"):
        count = page.evaluate("cards.count")
        assert count > 30
        for n in range(0, count, 1 if density == "phrases" else 7):
            page.evaluate(f"cards.show({n})")
            assert page.evaluate(OUTSIDE) == [], (n, density)
        page.keyboard.press("p")


@pytest.mark.parametrize("size", SIZES.values(), ids=list(SIZES))
def test_the_capitals_are_as_tall_as_computed(size: tuple[int, int], show: Open) -> None:
    page = show("slack-water", size)
    computed = page.evaluate("cards.em") * face().capital_em
    # Measured on the picture: the rows of pixels that a capital H in the card's type darkens.
    page.evaluate(
        """() => { const p = document.createElement("p"); p.id = "h"; p.textContent = "H";
        p.style.cssText = `position:fixed;left:0;top:0;margin:0;z-index:9;background:#fff;color:#000;font-size:${cards.em}px;line-height:1;
        padding:0 8px 8px 0`;
        document.body.append(p); }"""
    )
    picture = page.locator("#h").screenshot()
    assert ink_rows(picture) == pytest.approx(computed, abs=1.0)
    # At a distance from which this screen can be read, the type is 20 minutes of arc and not less.
    page.evaluate("document.getElementById('h').remove()")
    distance = 0.7
    set_distance(page, distance)
    mm = page.evaluate("cards.em * cards.mmPerPx()")
    assert mm >= size_mm(distance, 20) * 0.999
    assert mm <= size_mm(distance, 22) * 1.001
    assert page.locator("#warn").is_hidden()


def test_a_screen_that_is_too_small_says_so_and_what_helps(show: Open) -> None:
    page = show("slack-water", SIZES["phone"])
    text = page.locator("#warn").inner_text()
    assert "Too small from 3 m" in text
    assert "print the cards" in text
    distance = float(text.split("read from ")[1].split(" m")[0])
    set_distance(page, distance)
    assert page.locator("#warn").is_hidden()


def test_the_size_of_the_screen_may_stand_in_the_series(show: Open, demos: dict[str, Briefed], tmp_path: Path) -> None:
    """A screen of 134 x 62 mm, about 6 inches, on 844 x 390 points: no bank card is asked for, and it is said how near one has to stand."""
    outline = demos["slack-water"].outline
    settings = outline.settings.model_copy(update={"screen": Screen(long_mm=134, short_mm=62)})
    path = tmp_path / "cards.html"
    named = outline.model_copy(update={"settings": settings})
    path.write_text(cards_html(named, Templates((built_in("templates"),))), encoding="utf-8")
    page = show(size=(844, 390), path=path)
    assert "Too small from 3 m" in page.inner_text("body")
    page.get_by_text("set-up").first.click()
    assert "The size of this screen is the one in your series." in page.inner_text("body")


def test_rows_are_as_wide_as_measured(show: Open, demos: dict[str, Briefed]) -> None:
    page = show("breakwater")
    seen = 0
    for n in range(0, page.evaluate("cards.count"), 5):
        page.evaluate(f"cards.show({n})")
        rows = page.evaluate(
            "[...document.querySelectorAll('.row')].map((r) => [r.textContent, r.getBoundingClientRect().width, "
            "parseFloat(getComputedStyle(r).fontSize), r.classList.contains('bold')])"
        )
        for text, wide, size, bold in rows:
            assert wide == pytest.approx(width_em(text, bold=bold) * size, rel=0.01), text
            seen += 1
    assert seen > 20
    assert demos


def test_the_page_shows_the_deck_of_the_writer(show: Open, demos: dict[str, Briefed]) -> None:
    page = show("slack-water")
    frame = page.evaluate("[cards.deck.w, cards.deck.h]")
    deck = next(
        d
        for d in screen_decks(demos["slack-water"].outline)["phrases"]
        if [d.frame.width_em, d.frame.height_em] == frame
    )
    for card in deck.cards[::6]:
        page.evaluate(f"cards.show({card.number - 1})")
        shown = page.evaluate("[...document.querySelectorAll('.row')].map((r) => r.textContent)")
        assert shown == [r.text for e in card.entries for r in e.rows]


# Keys, buttons, touch


@pytest.mark.parametrize(
    ("forward", "back"),
    [
        ("ArrowRight", "ArrowLeft"),
        ("ArrowDown", "ArrowUp"),
        ("PageDown", "PageUp"),
        ("Space", "Shift+Space"),
        ("Enter", "Backspace"),
    ],
)
def test_keys_turn_the_cards(forward: str, back: str, show: Open) -> None:
    page = show()
    first = words(page)
    page.keyboard.press(forward)
    page.keyboard.press(forward)
    assert at(page) == 2
    assert words(page) != first
    page.keyboard.press(back)
    assert at(page) == 1
    page.keyboard.press("End")
    assert at(page) == page.evaluate("cards.count") - 1
    page.keyboard.press(forward)
    assert at(page) == page.evaluate("cards.count") - 1
    page.keyboard.press("Home")
    page.keyboard.press(back)
    assert at(page) == 0


def test_taps_swipes_and_buttons_turn_the_cards(show: Open) -> None:
    page = show("slack-water", SIZES["phone"], has_touch=True)
    page.touchscreen.tap(300, 400)
    assert at(page) == 1
    page.touchscreen.tap(40, 400)
    assert at(page) == 0
    page.mouse.move(300, 400)
    page.mouse.down()
    page.mouse.move(120, 405, steps=4)
    page.mouse.up()
    assert at(page) == 1
    page.mouse.move(100, 400)
    page.mouse.down()
    page.mouse.move(300, 405, steps=4)
    page.mouse.up()
    assert at(page) == 0
    page.locator("#next").tap()
    assert at(page) == 1
    # A remote's space turns the next card, it does not press the button again.
    page.keyboard.press("Space")
    assert at(page) == 2
    page.locator("#back").tap()
    assert at(page) == 1
    for box in (page.locator(f"#{i}").bounding_box() for i in ("back", "start", "keep", "again", "next")):
        # WCAG 2.2 SC 2.5.5 (AAA): at least 44 x 44 CSS pixels.
        assert box["width"] >= 44
        assert box["height"] >= 44


def test_start_keep_again_with_clocks_and_takes(show: Open) -> None:
    page = show()
    page.clock.install()
    page.reload()
    assert page.locator(".side").inner_text().startswith("take 1")
    assert page.locator("#keep").get_attribute("aria-disabled") == "true"
    page.keyboard.press("k")
    assert page.evaluate("cards.state.log.length") == 0
    page.keyboard.press("s")
    assert page.evaluate("cards.deck.cards[cards.index].s") == 0
    left = page.locator(".left").inner_text()
    page.clock.run_for(10_000)
    assert seconds(page.locator(".left").inner_text()) == pytest.approx(seconds(left) - 10, abs=1)
    assert page.locator("#start").get_attribute("aria-disabled") == "true"
    # The first card of the segment is long over: behind by form and word.
    page.clock.run_for(60_000)
    assert "over" in page.locator(".left").inner_text()
    assert "over" in (page.locator(".track").get_attribute("class") or "")
    assert "behind" in page.locator(".pace").inner_text()
    assert page.locator(".pace svg path").count() == 1
    page.locator("#again").click()
    assert page.locator(".side").inner_text().startswith("take 2")
    page.locator("#start").click()
    page.clock.run_for(2_000)
    page.locator("#keep").click()
    assert page.evaluate("cards.deck.cards[cards.index].s") == 1
    assert "ahead" in page.locator(".pace").inner_text()
    assert page.evaluate("cards.state.takes[0].kept") == pytest.approx(2, abs=0.3)


def test_it_resumes_after_a_reload_also_while_a_take_rolls(show: Open) -> None:
    page = show()
    page.clock.install()
    page.reload()
    for _ in range(12):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("s")
    page.clock.run_for(5_000)
    page.keyboard.press("ArrowRight")
    here, shown = at(page), words(page)
    page.reload()
    assert (at(page), words(page)) == (here, shown)
    assert page.locator("#keep").get_attribute("aria-disabled") == "false"
    page.clock.run_for(3_000)
    page.keyboard.press("k")
    segment = page.evaluate("cards.state.log[0][2]")
    assert page.evaluate(f"cards.state.takes[{segment}].kept") >= 8
    # Any segment can be taken up.
    page.locator("#setup").click()
    page.locator("#segments button").nth(4).click()
    assert page.evaluate("cards.deck.cards[cards.index].s") == 4


def test_the_log_is_a_text_file_of_starts_keeps_and_cards(show: Open) -> None:
    page = show()
    page.clock.install()
    page.reload()
    page.keyboard.press("s")
    page.clock.run_for(4_000)
    page.keyboard.press("ArrowRight")
    page.clock.run_for(1_500)
    page.keyboard.press("a")
    page.keyboard.press("s")
    page.clock.run_for(3_000)
    page.keyboard.press("k")
    page.locator("#setup").click()
    with page.expect_download() as waiting:
        page.locator("#save").click()
    assert waiting.value.suggested_filename == "slack-water-log.txt"
    text = Path(waiting.value.path()).read_text(encoding="utf-8")
    assert text == page.locator("#log").input_value()
    head, columns, *rows = text.rstrip("\n").split("\n")
    assert head.startswith("Slack Water: log of the cards; 0:00:00.0 is ")
    assert columns.split("\t") == ["clock", "what", "segment", "take", "planned", "title"]
    found = [r.split("\t") for r in rows]
    assert [r[1] for r in found] == ["start", "card", "again", "start", "keep"]
    assert [r[3] for r in found] == ["1", "1", "1", "2", "2"]
    assert {r[2] for r in found} == {"1"}
    assert found[0][0] == "0:00:00.0"
    assert found[1][0].startswith("0:00:04")
    assert found[0][5] == "What you get, what you need"


def test_turning_by_itself_is_off_and_can_be_switched_on(show: Open) -> None:
    page = show()
    page.clock.install()
    page.reload()
    page.keyboard.press("s")
    here = at(page)
    page.clock.run_for(25_000)
    assert at(page) == here
    page.keyboard.press("t")
    page.clock.run_for(1_000)
    assert at(page) > here


def test_bank_card_sets_the_size_of_the_screen_once(show: Open) -> None:
    page = show()
    page.locator("#setup").click()
    assert "guess" in page.locator("#size").inner_text()
    page.locator("#card-length").fill("428")
    # ISO/IEC 7810, ID-1: 85.60 mm.
    assert page.evaluate("cards.mmPerPx()") == pytest.approx(85.60 / 428)
    assert page.locator("#bank").bounding_box()["width"] == pytest.approx(428, abs=1)
    page.locator("#longer").click()
    assert page.evaluate("cards.mmPerPx()") == pytest.approx(85.60 / 429)
    page.reload()
    assert page.evaluate("cards.mmPerPx()") == pytest.approx(85.60 / 429)
    page.locator("#setup").click()
    assert "measured with a bank card" in page.locator("#size").inner_text()


def test_looks_light_mirrored_size_and_full_screen(show: Open) -> None:
    page = show()
    page.keyboard.press("l")
    assert "light" in page.evaluate("document.documentElement.className")
    page.keyboard.press("m")
    assert page.evaluate("getComputedStyle(document.getElementById('stage')).transform") == "matrix(-1, 0, 0, 1, 0, 0)"
    page.reload()
    assert "light" in page.evaluate("document.documentElement.className")
    set_distance(page, 1.0)
    before = page.evaluate("cards.em")
    page.keyboard.press("+")
    assert page.evaluate("cards.em") > before
    page.keyboard.press("-")
    assert page.evaluate("cards.em") == pytest.approx(before, rel=0.001)
    page.keyboard.press("f")
    page.wait_for_function("document.fullscreenElement !== null")
    page.keyboard.press("h")
    assert page.locator("#keys").is_hidden()
    page.locator("#hide").click()
    assert page.locator("#keys").is_visible()
    page.keyboard.press("o")
    assert page.locator("#panel").is_visible()
    assert "awake" in page.locator("#awake").inner_text()
    page.keyboard.press("Escape")
    assert page.locator("#panel").is_hidden()


def test_without_scripts_the_cards_scroll(show: Open, demos: dict[str, Briefed]) -> None:
    for size in SIZES.values():
        page = show("slack-water", size, java_script_enabled=False)
        plain = screen_decks(demos["slack-water"].outline)["phrases"][PLAIN_FRAME]
        assert page.locator(".card").count() == len(plain.cards)
        assert page.locator("#keys").is_hidden()
        for n in (0, 9, len(plain.cards) - 1):
            card = page.locator(".card").nth(n)
            card.scroll_into_view_if_needed()
            box = card.bounding_box()
            assert box["width"] <= size[0] + 1
            for row in card.locator(".row, .foot p").all():
                inner = row.bounding_box()
                assert inner["x"] >= box["x"] - 1
                assert inner["x"] + inner["width"] <= box["x"] + box["width"] + 1
                assert inner["y"] + inner["height"] <= box["y"] + box["height"] + 1


@pytest.mark.parametrize("light", [False, True], ids=["dark", "light"])
def test_the_contrast_of_all_text_is_at_least_seven_to_one(light: bool, show: Open) -> None:  # noqa: FBT001
    page = show()
    if light:
        page.keyboard.press("l")
    page.keyboard.press("s")
    page.locator("#setup").click()
    found = page.evaluate(
        """() => {
        const two = (n) => (+n).toString(16).padStart(2, "0");
        const hex = (c) => "#" + c.match(/\\d+/g).slice(0, 3).map(two).join("");
        const out = [];
        for (const e of document.querySelectorAll("body *:not(script):not(style)")) {
          if (![...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
          if (!e.getClientRects().length) continue;
          let b = e; while (b && getComputedStyle(b).backgroundColor === "rgba(0, 0, 0, 0)") b = b.parentElement;
          const ground = b ? hex(getComputedStyle(b).backgroundColor) : "#ffffff";
          out.push([e.textContent.trim().slice(0, 30), hex(getComputedStyle(e).color), ground]);
        } return out; }"""
    )
    assert len(found) > 30
    for text, ink, ground in found:
        assert contrast(ink, ground) >= 7.0, (text, ink, ground)


def test_a_title_with_markup_shows_as_text(show: Open, brief_text: Callable[..., Briefed], tmp_path: Path) -> None:
    board = f"---\ntitle: '{NASTY}'\n---\nAMRAP 10:00\n  10 push-ups\n\n## Notes\n\n{NASTY}\n"
    outline = brief_text(board).outline
    path = tmp_path / "nasty.html"
    path.write_text(cards_html(outline, Templates((built_in("templates"),))), encoding="utf-8")
    page = show(path=path)
    assert page.evaluate("window.hurt") is None
    assert "<script>" in page.title()
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.images.length") == 0
    assert "</script>" in page.locator("#where").inner_text()


@pytest.fixture(scope="session")
def axe() -> str:
    """Give axe-core (MPL 2.0) as a package of the registry carries it."""
    return (resources.files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "as written"])
@pytest.mark.parametrize("light", [False, True], ids=["dark", "light"])
def test_axe_finds_nothing(light: bool, scripts: bool, axe: str, browser: Any, pages: dict[str, Path]) -> None:  # noqa: FBT001
    context = browser.new_context(viewport={"width": 390, "height": 844}, bypass_csp=True)
    page = context.new_page()
    if not scripts:
        # The page as it is without its script: axe needs scripts, the cards' own is taken out.
        text = pages["slack-water"].read_text(encoding="utf-8")
        head, _, rest = text.rpartition("<script>")
        page.set_content(head + rest.partition("</script>")[2])
    else:
        page.goto(f"file://{pages['slack-water']}")
    if light:
        page.evaluate("document.documentElement.classList.add('light')")
    page.evaluate(axe)
    for open_panel in (False, True) if scripts else (False,):
        if open_panel:
            page.locator("#setup").click()
        result = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
        found = [(v["id"], [n["html"][:120] for n in v["nodes"][:3]]) for v in result["violations"]]
        assert found == [], open_panel
    context.close()


def set_distance(page: Any, metres: float) -> None:
    page.locator("#setup").click()
    page.locator("#distance").fill(str(metres))
    page.locator("#distance").dispatch_event("change")
    page.locator("#close").click()


def seconds(text: str) -> int:
    clock = "".join(c for c in text if c.isdigit() or c == ":")
    minutes, rest = clock.split(":")
    return int(minutes) * 60 + int(rest)


def ink_rows(picture: bytes) -> int:
    import io  # noqa: PLC0415

    image = pytest.importorskip("PIL.Image", reason="Pillow is missing: the picture cannot be measured").open(
        io.BytesIO(picture)
    )
    # The last rows and columns may hold a part of what lies behind.
    grey = image.convert("L").crop((0, 0, image.width - 3, image.height - 3))
    return sum(grey.crop((0, y, grey.width, y + 1)).getextrema()[0] < 128 for y in range(grey.height))
