"""Book 00: a button over every number, a card for every part, and a day whose words, picture and books agree."""

import json
import re
from pathlib import Path

import pytest

from tlib import installation, panels, tables
from tlib.assessment import Answer, attempt_key, bank, desk, draw, mark, question
from tlib.figures import palette
from tlib.installation.schematic_plan import plan_of
from tlib.panels import caution, ends, words_used
from tlib.panels.books import first_steps, heat_day, places, tour
from tlib.panels.sitting import Sitting
from tlib.tables import table

SITES = {path.stem: installation.load(path) for path in sorted((tables.shipped("workbooks") / "sites").glob("*.toml"))}
QUARTERS = [6 + quarter / 4 for quarter in range(72)]


@pytest.fixture(params=SITES)
def place(request):
    return tour.Tour(SITES[request.param])


@pytest.fixture
def larkrigg():
    return tour.Tour(places.larkrigg())


# --- the tour ---


def test_every_part_has_a_button_with_its_name_and_a_line_in_the_list(place):
    names = [f"{spot.number}. {spot.says}" for spot in place.spots]
    assert [button.description for button in place.buttons] == names
    assert [words for words, _ in place.list.options] == names


def test_each_button_lies_in_the_middle_of_its_number(place):
    for button, part in zip(place.buttons, plan_of(place._site).parts, strict=True):
        left, top = (float(getattr(button.layout, side).removesuffix("%")) for side in ("left", "top"))
        assert 7.00 * left == pytest.approx(part.spot[0], abs=0.05)
        assert 6.00 * top == pytest.approx(part.spot[1], abs=0.05)


def test_buttons_are_large_enough_and_hide_none_of_their_neighbours():
    assert tour.TARGET >= 24  # WCAG 2.2, criterion 2.5.8
    rules = (Path(panels.__file__).parent / "panels.css").read_text(encoding="utf-8")
    (spot,) = re.findall(r"button\.widget-button\.tlib-spot \{(.*?)\}", rules, re.DOTALL)
    assert f"width: {tour.TARGET}px" in spot
    assert f"height: {tour.TARGET}px" in spot
    assert "translate(-50%, -50%)" in spot
    for site in SITES.values():
        parts = plan_of(site).parts
        for one in parts:
            for other in parts:
                if one is not other:  # a circle of 24 px round the middle of each touches no other target
                    assert max(abs(one.spot[side] - other.spot[side]) for side in (0, 1)) >= 20, (one.name, other.name)


def test_every_part_can_be_chosen_and_its_card_says_all_there_is(place):
    for button, spot in zip(place.buttons, place.spots, strict=True):
        button.click()
        entry, card = table("parts")["part"][spot.name], place.card.value.replace("\xa0", " ").replace("&#x27;", "'")
        for text in (spot.says, entry["is"], entry["why"], entry["hurts"], table("parts")["needs"][entry["needs"]]):
            assert text in card, (spot.name, text)
        assert table("cautions")["ending"] in card
        assert 'role="status"' in card


def test_the_chosen_part_is_ringed_and_told_to_those_who_do_not_see_it(larkrigg):
    before = larkrigg.drawing.picture
    larkrigg.buttons[3].click()
    after = larkrigg.drawing.picture
    assert after.markup.count("<circle") == before.markup.count("<circle") + 1
    assert "Chosen: 4. heat-leak radiator." in after.markup
    assert larkrigg.list.value == 4


def test_a_line_of_the_list_chooses_as_the_button_does(larkrigg):
    larkrigg.buttons[6].click()
    by_button = (larkrigg.card.value, larkrigg.drawing.picture.markup)
    larkrigg.choose(1)
    larkrigg.list.value = 7
    assert (larkrigg.card.value, larkrigg.drawing.picture.markup) == by_button


def test_before_a_choice_the_card_says_how_to_choose(larkrigg):
    assert tour.ASK in larkrigg.card.value
    assert "Chosen" not in larkrigg.drawing.picture.markup


def test_a_card_names_its_book_and_says_when_that_is_not_written_yet(larkrigg):
    larkrigg.buttons[0].click()
    assert "Book 04" in larkrigg.card.value
    there = first_steps.books()
    for button, spot in zip(larkrigg.buttons, larkrigg.spots, strict=True):
        button.click()
        number = table("parts")["part"][spot.name]["book"]
        assert ("is not written yet" in larkrigg.card.value) is (number not in there)


def test_the_page_needs_no_engine_for_its_first_picture():
    import subprocess
    import sys

    code = (
        "import sys; from tlib.panels.books.tour import tour; tour(); print({'numba', 'CoolProp'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.strip() == "set()"


def test_the_list_of_words_takes_in_those_of_every_card():
    listed = words_used("00", *tour.told()).children[1].value
    for word in ("tundish", "coil", "sealed system", "open vent", "kilowatt"):
        assert (f"<dt>{word}</dt>" in listed) is (word != "sealed system"), word  # Larkrigg is open to the air


def test_the_book_has_a_caution():
    assert "Look, but do not touch." in caution("00").children[1].value


# --- the day ---


def heat(name, clock):
    """Return a heat flow over a quarter of an hour, worked from the run a second way: by hours, not by rows [kW]."""
    day, begins = heat_day.day(), (clock - 6) * 3600.0
    inside = (day.time[:-1] >= begins - 1) & (day.time[:-1] < begins + 899)
    return day.powers[name][inside].mean() / 1000


def test_the_day_runs_to_midnight_and_its_books_close():
    day = heat_day.day()
    assert not day.boiled
    assert day.time[-1] == 18 * 3600
    assert day.ledger.closure <= 1e-12


@pytest.mark.parametrize("clock", QUARTERS)
def test_words_picture_and_run_agree_in_every_quarter_of_an_hour(clock):
    told = {passing.name: float(passing.reading.split()[0]) for passing in heat_day.passing_at(clock)}
    for name, reading in told.items():
        assert reading == pytest.approx(abs(heat(name, clock)), abs=0.051)
    for name in (*heat_day.GIVES, *heat_day.TAKES, "burner to store"):
        assert (name in told) == (abs(heat(name, clock)) >= heat_day.LEAST), name
    (picture,) = heat_day.pictures(clock)
    for passing in heat_day.passing_at(clock):
        assert f">{passing.reading}</text>" in picture.markup
        assert passing.reading in picture.words
    assert max(len(part.split()) for part in re.split(r"(?<=[.:]) ", picture.words)) <= 25


def test_no_pump_moves_heat_in_the_power_cut_and_two_parts_that_need_no_power_do():
    for clock in (18.75, 19.0, 19.25, 19.5):
        told = {passing.name for passing in heat_day.passing_at(clock)}
        assert told == {"fire to water", "heat leak", "thermal valve"}
        assert "The power is off, so no pump runs." in heat_day.words_at(clock)
        assert "near boiling: stand clear" in heat_day.words_at(clock)
    for name in ("heat leak", "thermal valve"):
        assert table("parts")["part"][name]["needs"] != "power"


@pytest.mark.parametrize(
    ("time", "clock"), [(0.0, 6.0), (899.0, 6.0), (900.0, 6.25), (47400.0, 19.0), (64800.0, 23.75)]
)
def test_the_player_shows_the_quarter_of_an_hour_that_holds_the_moment(time, clock):
    assert heat_day.frame(heat_day.day(), time) == heat_day.pictures(clock)


@pytest.mark.parametrize("values", list(ends(heat_day.SIGHT)), ids=str)
def test_the_clock_draws_at_its_ends(values):
    (picture,) = heat_day.pictures(**values)
    assert picture.words.startswith("From ")
    assert picture.words.endswith(" at the bottom.")


@pytest.mark.parametrize(
    ("moment", "passes"),
    [
        ("Morning", {"boiler to store", "hot water", "heating", "solar to store"}),
        ("Sunny noon", {"solar to store"}),
        ("Evening fire", {"fire to water", "burner to store", "heat leak", "heating"}),
        ("Power cut", {"fire to water", "heat leak", "thermal valve"}),
    ],
)
def test_each_moment_shows_what_its_name_says(moment, passes):
    clock = heat_day.PRESETS[moment].get("time_of_day", heat_day.SIGHT[0].start)
    assert {passing.name for passing in heat_day.passing_at(clock)} == passes


def test_parts_are_marked_by_more_than_colour():
    (picture,) = heat_day.pictures(19.0)
    assert 'stroke-width="5"' in picture.markup
    assert picture.rows[0] == ("number", "part", "heat now")
    marked = [row[1] for row in picture.rows[1:] if row[2] != "nothing"]
    assert marked == ["log burner", "heat-leak radiator", "thermal valve, mains water through a coil to the tundish"]
    assert picture.markup.count(f'fill="{palette.PAPER}" text-anchor="middle"') == len(marked)


def test_the_day_opens_when_the_prediction_is_locked(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path))
    from tlib.panels.sitting import sitting

    sitting().begin("book-00")
    sitting().switch("17")
    panel = heat_day.panel()
    panel.draw()
    assert panel.pictures == []
    panel._prediction.field.value = panel._prediction.options[1]
    panel._prediction.lock.click()
    assert panel.fault is None
    assert len(panel.pictures) == 1
    sitting().switch("18")
    assert not panel.is_open
    sitting().close()


# --- first steps ---


@pytest.mark.parametrize("temperature", first_steps.CONTROL.ends)
def test_the_practice_store_draws_at_its_ends(temperature):
    (picture,) = first_steps.store_at(temperature)
    by_hand = 300 * (temperature - 20) * 1.163 / 1000  # litres, kelvin, Wh a litre and kelvin
    assert f"It holds {by_hand:.1f} kWh more heat than at 20 °C." in picture.words


def test_where_answers_are_kept_follows_the_learner(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path / "a <b>"))
    place = Sitting()
    place.begin("book-00")
    kept = first_steps.WhereKept(place)
    assert "Nothing is kept yet." in kept.says.value
    place.switch("17")
    assert "learner 17" in kept.says.value
    assert "a &lt;b&gt;" in kept.says.value
    place.switch("18")
    assert "17" not in kept.says.value.replace(str(tmp_path), "")
    assert desk.books_folder("18").name in kept.says.value


def test_the_desktop_file_is_made_and_named(tmp_path):
    from tlib.lab.shortcut import place_shortcut

    box = first_steps.DesktopFile(lambda: place_shortcut(tmp_path, folder=tmp_path))
    box.press.click()
    (file,) = tmp_path.iterdir()
    assert file.name.startswith("Thermal store workbooks.")
    assert "double-click “Thermal store workbooks” on your desktop" in box.says.value
    assert str(file) in box.says.value


def test_a_desktop_that_cannot_be_written_is_told():
    def refuse():
        raise PermissionError("no <room>")

    box = first_steps.DesktopFile(refuse)
    box.press.click()
    assert "The file could NOT be made (no &lt;room&gt;)." in box.says.value


def test_the_books_are_those_that_came_with_this_copy():
    shipped = tables.shipped("workbooks")
    found = first_steps.books()
    assert {file for file, _ in found.values()} == {path.name for path in shipped.glob("[0-9][0-9]-*.ipynb")}
    assert found["00"] == ("00-start-here.ipynb", "Start here")
    links = first_steps.BookList()._repr_markdown_()
    assert "[Book 04: The evening fire, the morning shower](04-the-evening-fire.ipynb)" in links
    assert "00-start-here" not in links
    assert "Book 04" in repr(first_steps.BookList())


def sentences_of(book):
    """Return every sentence of the text of a notebook; a line of a list is one, or more."""
    texts = ["".join(cell["source"]) for cell in book["cells"] if cell["cell_type"] == "markdown"]
    lines = [line for text in texts for line in re.split(r"\n\n|\n(?=- |\d\. |#)", text) if not line.startswith("#")]
    plain = [re.sub(r"\*+|^(- |\d\. )", "", line.replace("\n", " ")) for line in lines]
    return [part for line in plain for part in re.split(r"(?<=[.?!:]) ", line.strip()) if part]


def test_the_words_of_the_book_are_plain_and_short():
    import textstat

    said = sentences_of(json.loads((tables.shipped("workbooks") / "00-start-here.ipynb").read_text(encoding="utf-8")))
    assert max(len(sentence.split()) for sentence in said) <= 25
    assert sum(len(sentence.split()) for sentence in said) / len(said) <= 15
    assert textstat.automated_readability_index(" ".join(said)) < 5
    assert textstat.coleman_liau_index(" ".join(said)) < 6


# --- the questions to practise on ---


def marked(name, answer):
    """Return an exercise of the first page, marked for learner 17, and what the learner was asked."""
    exercise = bank.load()[name]
    values = draw(exercise, "17", attempt_key("book-00", 1))
    (part,) = question(exercise, values).parts
    return mark(exercise, values, {part.name: Answer(answer(values, part))})


def test_a_number_with_its_unit_earns_all_and_without_it_loses_the_unit():
    def shows(values):  # by hand: where it stood, and so many presses of so many degrees
        numbers = values.numbers
        return numbers["start"] + numbers["presses"] * numbers["step"]

    right = marked("first-number-1", lambda values, _: f"{shows(values):g} °C")
    bare = marked("first-number-1", lambda values, _: f"{shows(values):g}")
    assert (right.earned, right.available) == (3, 3)
    assert bare.earned < 3
    assert marked("first-number-1", lambda values, _: f"{shows(values) + 1:g} °C").earned < 3


def test_the_right_choice_and_the_right_order_earn_all():
    def letter(part, wanted):
        return "ABCDE"[next(place for place, says in enumerate(part.things) if says.startswith(wanted))]

    choice = marked("somebody-else-1", lambda _, part: letter(part, "Press “Someone else is here”"))
    assert choice.earned == choice.available == 1
    steps = ("Give your", "Lock a", "Move the", "Answer", "Hand in")
    order = marked("how-a-page-goes-1", lambda _, part: ", ".join(letter(part, step) for step in steps))
    assert order.earned == order.available == 4  # pairs that follow each other, in five steps
