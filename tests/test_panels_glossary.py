"""Words of the trade where they stand: found once, explained once, reached by key, and listed at a book's end."""

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tlib.panels import words, words_used
from tlib.panels.glossary import explained, meanings, terms_in
from tlib.panels.markup import paragraph, status
from tlib.panels.words import texts_of
from tlib.validation import OutOfRange

TERMS = sorted(meanings())


class Reader(HTMLParser):
    """Reads markup back: the text that shows at rest, and each button with its title."""

    def __init__(self, markup):
        super().__init__()
        self.text, self.buttons, self.open = "", [], []
        self.feed(markup)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attributes):
        attributes = dict(attributes)
        if tag == "button":
            self.buttons.append([attributes["title"], ""])
        self.open.append(attributes.get("class", tag))

    def handle_endtag(self, tag):
        self.open.pop()

    def handle_data(self, data):
        if "tlib-meaning" in self.open:
            return
        self.text += data
        if "tlib-term" in self.open:
            assert self.open.count("tlib-term") == 1, "a word inside a word"
            self.buttons[-1][1] += data


def sentence(term):
    """Return a sentence with a word, as it may stand there: a unit stands behind a number."""
    return f"Look: 2 {term} here."


@pytest.mark.parametrize("term", TERMS)
def test_every_word_of_the_glossary_is_found_and_explained_with_its_meaning(term):
    read = Reader(explained(sentence(term)))
    assert read.buttons == [[meanings()[term], term]]
    assert read.text == sentence(term)
    assert terms_in(sentence(term)) == (term,)


@pytest.mark.parametrize("term", [term for term in TERMS if term != "bar"])
def test_a_capital_and_a_plural_are_the_same_word(term):
    assert terms_in(f"{term.capitalize()}s are old.") == (term,)


def test_only_where_it_first_stands():
    markup = paragraph("A coil, a second coil.\n\nCoils and a boiler.")
    assert [shown for _, shown in Reader(markup).buttons] == ["coil", "boiler"]
    assert markup.count("<p>") == 2


def test_the_longest_word_wins():
    assert terms_in("It reads 2 bar gauge in the thermal store.") == ("bar gauge", "thermal store")
    assert terms_in("one kilowatt-hour") == ("kilowatt-hour",)
    assert terms_in("The relief valves") == ("relief valve",)


@pytest.mark.parametrize(
    "text", ["The bar on the chart.", "Bars show it.", "a barrel", "coiled", "up-survey", "re-coil"]
)
def test_what_only_looks_like_a_word_is_left_alone(text):
    assert terms_in(text) == ()
    assert explained(text) == text


def test_a_word_in_what_looks_like_a_tag_stays_harmless_text():
    text = '<b title="coil">boiler</b> & <coil>'
    read = Reader(explained(text))
    assert read.text == text
    assert [shown for _, shown in read.buttons] == ["coil", "boiler"]
    assert "<b" not in explained(text).replace("<button", "")


def test_a_meaning_is_escaped_and_never_marked_itself(monkeypatch):
    meaning = 'A "long" <tube> & a boiler.'
    monkeypatch.setattr("tlib.panels.glossary.meanings", lambda: {"coil": meaning, "boiler": "Heats."})
    read = Reader(explained("A coil."))
    assert read.buttons == [[meaning, "coil"]]
    assert "<tube>" not in explained("A coil.")


@given(st.lists(st.sampled_from([*TERMS, "<", ">", "&", '"', "'", "2", " ", "\n", "é", "s"]), max_size=30))
def test_any_text_is_shown_as_it_was_written(parts):
    text = "".join(parts)
    read = Reader(explained(text))
    assert read.text == text
    assert len({title for title, _ in read.buttons}) == len(read.buttons) == len(terms_in(text))


def test_the_meaning_is_reached_by_key_without_a_script():
    markup = explained("A coil.")
    assert markup.count('<button type="button"') == 1
    assert "tabindex" not in markup
    assert "onclick" not in markup
    assert 'aria-hidden="true">coil: ' in markup, "its title says it already"


def test_quiet_lines_and_live_regions_stay_plain():
    assert paragraph("A coil.", "quiet") == '<p class="tlib-quiet">A coil.</p>'
    assert "button" not in status("A coil.")


def listed(box):
    return re.findall("<dt>(.*?)</dt>", box.children[1].value)


def test_a_book_lists_exactly_the_words_it_used():
    used = listed(words_used("04"))
    everything = " ".join(texts_of("04")).lower()
    for term in TERMS:
        if term != "bar":
            is_there = re.search(rf"(?<![\w-]){re.escape(term)}(s|es)?(?![\w-])", everything) is not None
            if not any(term in longer and longer != term for longer in used):
                assert (term in used) == is_there, term
    assert used == sorted(used)
    assert {"log burner", "coil", "moisture", "thermal valve"} <= set(used)
    assert "underfloor heating" not in used


def test_other_texts_of_a_book_count_too():
    assert "tundish" in listed(words_used("04", "Water ran through the tundish."))


def test_a_book_that_is_not_there_has_no_list():
    with pytest.raises(OutOfRange, match="workbook must be the number of one that is there; got '77'"):
        words_used("77")


def test_a_list_of_no_words_is_empty():
    assert listed(words()) == []
