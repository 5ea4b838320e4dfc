"""Every sentence that a learner meets is short and plain.

The aim is the reading age of public information, nine to eleven: a mean of 15 words a sentence, none over 25, a Flesch
reading ease of 65 or more and a Flesch-Kincaid grade of 7 or less. A word of the glossary counts in full where a
document first has it, and as plain words after that. No text is so short that it needed an allowance.
"""

from functools import cache

import pytest

from tlib.tables import table

from .reading import (
    ROOT,
    Score,
    Text,
    exercise_texts,
    score,
    sentences,
    shown_constants,
    syllables,
    table_texts,
    template_texts,
    trade_words,
    words,
    workbook_texts,
)

LONGEST, MEAN, EASE, GRADE = 25, 15, 65, 7
EXCUSED: dict[str, str] = {}
"""A sentence over the length, and why it cannot be shorter."""
TABLES = ROOT / "tlib" / "tables"


@cache
def documents():
    """Return the texts of each document, by its name."""
    found = {path.name: list(workbook_texts(path)) for path in sorted(ROOT.glob("workbooks/*.ipynb"))}
    exercises = {
        path.relative_to(ROOT).as_posix(): list(exercise_texts(path))
        for path in sorted(ROOT.glob("exercises/*/*.toml"))
    }
    found |= exercises | {"all exercises": [text for texts in exercises.values() for text in texts]}
    found["slips.toml"] = list(table_texts(ROOT / "exercises" / "slips.toml", {"feedback"}))
    found["cautions.toml"] = list(table_texts(TABLES / "cautions.toml", {"ending", *table("cautions")["caution"]}))
    found["parts.toml"] = list(table_texts(TABLES / "parts.toml", {"is", "why", "hurts", *table("parts")["needs"]}))
    found["glossary.toml"] = list(table_texts(TABLES / "glossary.toml", set(table("glossary")["word"])))
    for room in ("panels", "assessment", "figures", "papers"):
        paths = sorted((ROOT / "tlib" / room).rglob("*.py"))
        found[f"tlib/{room}"] = [text for path in paths for text in shown_constants(path)]
    for path in sorted((ROOT / "tlib" / "papers" / "templates").glob("*.html")):
        found[path.name] = list(template_texts(path))
    return found


DOCUMENTS = sorted(documents())


def too_long(texts):
    """Return a line for each sentence over the length."""
    return [
        f"{text.document}, {text.place}: {len(words(sentence))} words: {sentence}"
        for text in texts
        for sentence in sentences(text.words)
        if len(words(sentence)) > LONGEST and sentence not in EXCUSED
    ]


def hardest(texts):
    """Return the three sentences that pull the ease down most, with their places."""
    each = [(score([Text("", "", s)]).ease, t, s) for t in texts for s in sentences(t.words) if len(words(s)) > 3]
    return [f"{text.document}, {text.place}: {said}" for _, text, said in sorted(each, key=lambda row: row[0])[:3]]


@pytest.mark.parametrize("name", DOCUMENTS)
def test_no_sentence_is_too_long(name):
    assert not too_long(documents()[name])


@pytest.mark.parametrize("name", DOCUMENTS)
def test_a_document_reads_easily(name):
    texts = documents()[name]
    counted = score(texts, trade_words())
    measured = f"{name}: mean {counted.mean:.1f}, ease {counted.ease:.1f}, grade {counted.grade:.1f}; {hardest(texts)}"
    assert counted.mean <= MEAN, measured
    assert counted.ease >= EASE, measured
    assert counted.grade <= GRADE, measured


def test_every_kind_of_document_has_words():
    assert all(documents().values())
    assert len(documents()["slips.toml"]) == len(table_slips())
    assert len(documents()["glossary.toml"]) == len(table("glossary")["word"])
    assert len(documents()["cautions.toml"]) == len(table("cautions")["caution"]) + 1
    assert len(documents()["all exercises"]) > 1000
    assert len(documents()["tlib/panels"]) > 50
    assert len(documents()["tlib/assessment"]) > 50


def table_slips():
    """Return the codes of the catalogue of slips."""
    return [
        line
        for line in (ROOT / "exercises" / "slips.toml").read_text(encoding="utf-8").splitlines()
        if "[slip." in line
    ]


# --- the counts, held to hand counts and to published formulas ---

# Lincoln, Gettysburg, 19 November 1863, first sentence; 30 words and 48 syllables, counted by hand:
# Four score and sev-en years a-go our fa-thers brought forth on this con-ti-nent (19) a new na-tion con-ceived in
# Lib-er-ty and ded-i-cat-ed to the (34) prop-o-si-tion that all men are cre-at-ed e-qual (48).
GETTYSBURG = (
    "Four score and seven years ago our fathers brought forth on this continent, a new nation, conceived in Liberty, "
    "and dedicated to the proposition that all men are created equal."
)
# A nursery rhyme, older than any copyright; 26 words and 36 syllables, counted by hand:
# Hump-ty Dump-ty sat on a wall (8). Hump-ty Dump-ty had a great fall (16). All the king's hors-es and all the king's
# men (26) could-n't put Hump-ty to-geth-er a-gain (36).
HUMPTY = (
    "Humpty Dumpty sat on a wall. Humpty Dumpty had a great fall. All the king's horses and all the king's men "
    "couldn't put Humpty together again."
)


@pytest.mark.parametrize(("said", "expected"), [(GETTYSBURG, (1, 30, 48)), (HUMPTY, (3, 26, 36))])
def test_counts_agree_with_a_hand_count(said, expected):
    counted = score([Text("", "", said)])
    assert (counted.sentences, counted.words, counted.syllables) == expected


# Worked by hand from Flesch 1948 (206.835, 1.015, 84.6) and Kincaid and others 1975 (0.39, 11.8, 15.59).
def test_the_formulas_agree_with_values_worked_by_hand():
    # 6 words of one syllable: 206.835 - 6.09 - 84.6 = 116.145 and 2.34 + 11.8 - 15.59 = -1.45
    cat = score([Text("", "", "The cat sat on the mat.")])
    assert cat.ease == pytest.approx(116.145, abs=5e-4)
    assert cat.grade == pytest.approx(-1.45, abs=5e-3)
    # 100 words in 5 sentences with 150 syllables: 206.835 - 20.3 - 126.9 = 59.635 and 7.8 + 17.7 - 15.59 = 9.91
    assert Score(5, 100, 150).ease == pytest.approx(59.635, abs=5e-4)
    assert Score(5, 100, 150).grade == pytest.approx(9.91, abs=5e-3)


SYLLABLES = {
    1: "fire pumped valves pipes kW 60 goes sea through",
    2: "heated settled little layer being quiet science safety useful safely houses boiler changes metre litres drying",
    3: "thermostat fluidly idea area created carbonate element kilowatt horizon",
    4: "temperature radiator kilowatt-hour",
    5: "circulation-pump immediately",
}


@pytest.mark.parametrize(("count", "word"), [(n, word) for n, row in SYLLABLES.items() for word in row.split()])
def test_syllables_of_a_word(count, word):
    assert syllables(word) == count


@pytest.mark.parametrize(
    ("said", "lengths"),
    [
        ("Light it at 17:00. Stop at 3.5 kWh, e.g. at 60 °C. Why?", [4, 6, 1]),
        ("- Shut the air\n- Close the door\n\nThen call.", [3, 3, 2]),
        ("300 × 40 × 1.163 Wh ÷ 1000 = 14.0 kWh. That is all.", [1, 3]),
        ("A 15 mm pipe carries 0.2 kg/s, 60 % of it hot.", [9]),
        ("Gwil asks: is it full? “No,” says Noor.", [5, 3]),
    ],
)
def test_sentences_and_words_are_split(said, lengths):
    assert [len(words(sentence)) for sentence in sentences(said)] == lengths


def test_a_trade_word_counts_in_full_once():
    trade = trade_words()
    once = score([Text("", "", "The thermostat is on.")], trade)
    twice = score([Text("", "", "The thermostat is on."), Text("", "", "Thermostats are on.")], trade)
    assert once.syllables == 6
    assert twice.syllables - once.syllables == 3


def test_a_long_sentence_and_hard_words_are_found():
    long = Text("a.toml", "line 7", "word " * 26 + "end.")
    assert too_long([Text("", "", "word " * 25)]) == []
    assert too_long([long])[0].startswith("a.toml, line 7: 27 words: word word")
    hard = score([Text("", "", "Stratification necessitates appropriate temperature differentials.")])
    assert hard.ease < EASE
    assert hard.grade > GRADE
