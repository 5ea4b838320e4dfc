"""What stands on the page: caution cards, worked sums, and a stylesheet whose colours can be read."""

import ast
import re
from pathlib import Path

import pytest

from tlib.figures import palette
from tlib.panels import WorkedExample, caution, words
from tlib.panels.markup import heading, paragraph, status
from tlib.panels.style import sheet, style
from tlib.sizing.lines import heat_line
from tlib.tables import table
from tlib.validation import OutOfRange

ROOM = Path(__file__).parent.parent / "tlib" / "panels"
LINES = [
    heat_line("heat in the logs", "", "8 × 4.087", 32.7 * 3.6e6),
    heat_line("heat of use", "", "32.7 × 0.75 <useful>", 24.5 * 3.6e6),
    heat_line("heat to the water", "", "24.5 × 0.65", 15.9 * 3.6e6),
]
ENDING = (
    "Follow the appliance instructions and your local code; "
    "have the work done or checked by a licensed or registered person."
)


@pytest.mark.parametrize("workbook", [*(f"{n:02d}" for n in range(17)), "mock"])
def test_every_workbook_has_a_caution_that_ends_as_it_must(workbook):
    card = caution(workbook).children[1].value
    assert 'role="note"' in card
    assert card.endswith(f"<p>{ENDING}</p></div>")
    assert len(table("cautions")["caution"][workbook].split()) >= 10


def test_cautions_read_as_for_a_twelve_year_old_in_short_sentences():
    import textstat

    cards = table("cautions")["caution"].values()
    assert textstat.automated_readability_index(" ".join(cards)) < 6
    assert textstat.coleman_liau_index(" ".join(cards)) < 6
    assert max(len(part.split()) for card in cards for part in re.split(r"[.:;] ", card)) <= 25


def test_a_workbook_without_a_caution_is_refused():
    with pytest.raises(OutOfRange, match="workbook must be one of 00, 01, 02"):
        caution("17")


def test_a_word_is_said_plainly():
    said = words("coil").children[1].value
    assert f"<dt>coil</dt><dd>{table('glossary')['word']['coil']}</dd>" in said


def test_a_word_that_nobody_explained_is_refused():
    with pytest.raises(OutOfRange, match=r"words must be in the glossary; got phlogiston\."):
        words("coil", "phlogiston")


def test_a_worked_sum_comes_a_line_at_a_time():
    worked = WorkedExample(LINES, "Does it fit?")
    assert ("= 32.7 kWh" in worked.sum.value, "24.5" in worked.sum.value) == (True, False)
    worked.next.click()
    assert "× 0.75 &lt;useful&gt;</dt><dd>= 24.5 kWh" in worked.sum.value
    worked.next.click()
    assert "15.9 kWh" in worked.sum.value
    assert (worked.next.layout.display, worked.all.layout.display) == ("none", "none")


def test_every_line_can_be_had_at_once():
    worked = WorkedExample(LINES)
    worked.all.click()
    assert worked.sum.value.count("<dt>") == 3


def test_a_sum_without_lines_is_refused():
    with pytest.raises(OutOfRange, match="the number of lines must be 1 or more"):
        WorkedExample([])


@pytest.mark.parametrize("make", [paragraph, heading, status])
def test_no_text_becomes_markup(make):
    assert "&lt;img onerror=&quot;x&quot;&gt;" in make('<img onerror="x">')
    assert "<img" not in make('<img onerror="x">')


def test_a_blank_line_begins_a_paragraph():
    assert paragraph("One\nline.\n\nTwo.") == "<p>One\nline.</p><p>Two.</p>"


def test_words_can_be_read_on_the_page():
    for colour in (palette.INK, palette.QUIET):
        assert palette.contrast(colour, palette.PAPER) >= 4.5  # WCAG 2.2, criterion 1.4.3
        assert palette.contrast(colour, "#ffffff") >= 4.5
    assert palette.contrast(palette.QUIET, palette.PAPER) >= 3  # edges of boxes: criterion 1.4.11


def test_colours_come_from_the_palette_alone():
    rules = (ROOM / "panels.css").read_text(encoding="utf-8")
    assert not re.search(r"#[0-9a-fA-F]{3,8}\b|rgba?\(|hsl", rules)
    assert {f"--panel-{name}" for name in re.findall(r"var\(--panel-(\w+)\)", rules)} == set(
        re.findall(r"--panel-\w+(?=:)", style())
    )
    for path in ROOM.glob("*.py"):
        assert not re.search(r"#[0-9a-fA-F]{6}\b", path.read_text(encoding="utf-8")), path.name


def test_the_stylesheet_is_one_widget_and_touches_only_our_boxes():
    assert sheet() is sheet()
    assert "</style" not in style()
    rules = re.sub(r"/\*.*?\*/", "", style(), flags=re.DOTALL)
    selectors = re.findall(r"([^{}@]+)\{", re.sub(r"@media[^{]*\{", "", rules))
    assert all("tlib" in part for selector in selectors for part in selector.split(",") if "(" not in selector)


def test_a_focus_ring_is_never_taken_away():
    assert "outline: none" not in style()
    assert "outline: 0" not in style()
    assert "outline: 3px solid var(--panel-ink)" in style()


def test_nothing_in_the_room_prints_or_shows_raw_text():
    for path in ROOM.glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        called = {ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
        assert "print" not in called, path.name
        assert not any(name.endswith(("Output", "interact", "HTMLMath")) for name in called), path.name
