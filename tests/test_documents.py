"""Files that people write: every fault by line, key and sentence, whatever layout the writer chose."""

import json
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.documents import Fault, Record, UnreadableDocument, line_of, parse, quantity, read


class Pump(Record):
    flow: quantity("kg/s", above=0)
    head: quantity("m", above=0, at_most=8) = 2.0


class Insulation(Record):
    thickness: quantity("m", above=0)


class Circuit(Record):
    name: str
    pump: Pump
    loss: quantity("W/K", at_least=0) | Insulation = 0.0
    heights: dict[str, quantity("1", at_least=0, at_most=1)] = {}  # noqa: RUF012
    lengths: list[quantity("m", above=0)] = []  # noqa: RUF012


class System(Record):
    format: int
    circuit: list[Circuit] = []  # noqa: RUF012


# Each number is that of the line on which its key stands, so the text is its own answer.
LAYOUTS = r"""top = 1
"quoted key" = 2
'single' = 3
a.b.c = 4
a.b."d.e" = 5
[table] # a comment with [brackets] and key = 0
x = 7
inline = { one = 8, two = { three = 8, "four.five" = 8 } }
list = [ 9, 9, { six = 9 } ]
[table.sub]
# y = 0
y = 12
spread = [
    14, # [ 0, 0 ]
    15,
    [ 16,
      17 ], { seven = 17 },
    { eight = [ 18,
        19 ] },
]
[other."dotted.name".deep]
z = 22
[[part]]
name = 24
[part.given]
p = 26
[[part.slip]]
code = 28
[[part.slip]]
code = 30
value = { right = 31 }
[part.slip.near]
far = 33
[[part]]
name = 35
slips = [
    { code = 37, value = 37 },
    { code = 38, value = 38 },
]
[[part.slip]]
code = 41
text = '''
code = 0
[part]
'''
after = 46
says = "a \" code = 0 # no"
none = []
last = 49
"""


def leaves(value, path=()):
    """Yield the path and value of everything that is not a table or a list."""
    if not isinstance(value, dict | list):
        yield path, value
        return
    for key, inside in value.items() if isinstance(value, dict) else enumerate(value):
        yield from leaves(inside, (*path, key))


NUMBERS = [(path, value) for path, value in leaves(tomllib.loads(LAYOUTS)) if isinstance(value, int)]


@pytest.mark.parametrize(("path", "line"), NUMBERS, ids=[".".join(map(str, path)) for path, _ in NUMBERS])
def test_every_key_is_found_in_every_layout(path, line):
    assert line_of(LAYOUTS, path) == line


@pytest.mark.parametrize(
    ("path", "line"),
    [
        ([], 1),
        (["nothing"], 1),
        (["table"], 6),
        (["table", "nothing"], 6),
        (["table", "sub"], 10),
        (["other"], 21),
        (["part"], 23),
        (["part", 0], 23),
        (["part", 1], 34),
        (["part", 1, "slip", 0], 40),
        (["part", 0, "slip", 1, "near"], 32),
        (["part", 1, "slips", 1], 38),
        (["part", "Name of a type", 1, "name"], 35),
    ],
)
def test_a_table_or_the_deepest_part_that_is_there_is_found(path, line):
    assert line_of(LAYOUTS, path) == line


def test_windows_line_ends_make_no_difference():
    text = LAYOUTS.replace("\n", "\r\n")
    assert [line_of(text, path) for path, _ in NUMBERS] == [line for _, line in NUMBERS]


NAMES = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=6)
TREES = st.recursive(
    st.integers(0, 9) | st.text("ab\"'#[]{}=,. \\\n", max_size=5),
    lambda inner: st.dictionaries(NAMES, inner, max_size=4) | st.lists(inner, max_size=3),
    max_leaves=12,
)


def lay_out(tree, path=()):
    """Write a tree as TOML: tables under headers, lists of tables as arrays of tables, the rest within a line."""
    tables = {key: value for key, value in tree.items() if isinstance(value, dict)}
    arrays = {key: value for key, value in tree.items() if is_array_of_tables(value)}
    rows = [
        f"{quoted(key)} = {within(value)}" for key, value in tree.items() if key not in tables and key not in arrays
    ]
    for key, value in tables.items():
        rows += [f"[{'.'.join(map(quoted, (*path, key)))}]  # [no.table]", *lay_out(value, (*path, key))]
    for key, members in arrays.items():
        for member in members:
            rows += ["", f"[[{'.'.join(map(quoted, (*path, key)))}]]", *lay_out(member, (*path, key))]
    return rows


def is_array_of_tables(value):
    return isinstance(value, list) and len(value) > 0 and all(isinstance(member, dict) for member in value)


def quoted(text):
    return json.dumps(text, ensure_ascii=False)


def within(value):
    if isinstance(value, dict):
        return "{" + ", ".join(f"{quoted(key)} = {within(inside)}" for key, inside in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(within, value)) + "]"
    return str(value) if isinstance(value, int) else quoted(value)


@settings(max_examples=50, deadline=None)
@given(st.dictionaries(NAMES, TREES, max_size=5))
def test_any_tree_finds_each_of_its_numbers(tree):
    # A number's line is right if the number, changed on that line, changes in what is read, and nothing else does.
    text = "\n".join(lay_out(tree))
    assert tomllib.loads(text) == tree
    for path, value in leaves(tree):
        rows = text.split("\n")
        here = rows[line_of(text, path) - 1]
        assert quoted(path[-1]) in here if isinstance(path[-1], str) else within(value) in here


# --- faults


def faults_of(text, model=System):
    with pytest.raises(UnreadableDocument) as refusal:
        parse(text, model, "file.toml")
    return [(fault.line, fault.key, fault.says) for fault in refusal.value.faults]


GOOD = """format = 1
[[circuit]]
name = "radiators"
pump = { flow = "10 l/min" }
loss = "1.85 W/K"
heights = { top = 0.9 }
lengths = ["2 m", "30 cm"]
[[circuit]]
name = "floor"
[circuit.pump]
flow = "12,5 litre/minute"
head = "3 m"
[circuit.loss]
thickness = "60 mm"
"""


def test_a_good_file_is_read_into_si():
    system = parse(GOOD, System)
    assert system.circuit[0].pump.flow == pytest.approx(1 / 6)
    assert system.circuit[0].loss == 1.85
    assert system.circuit[0].lengths == [2.0, 0.3]
    assert system.circuit[1].loss.thickness == 0.06
    assert system.circuit[1].pump.head == 3.0


def test_what_was_read_is_frozen():
    system = parse(GOOD, System)
    with pytest.raises(ValueError, match="frozen"):
        system.circuit[0].pump.flow = 2.0


@pytest.mark.parametrize(
    ("change", "line", "key", "says"),
    [
        (('"10 l/min"', '"10 kW"'), 4, "circuit.0.pump.flow", "'10 kW' is a power, not a flow"),
        (('"10 l/min"', "10"), 4, "circuit.0.pump.flow", "10 must be a text with a number and a unit, for a flow"),
        (('"10 l/min"', "true"), 4, "circuit.0.pump.flow", "True must be a text with a number and a unit"),
        (('"10 l/min"', '"0 l/min"'), 4, "circuit.0.pump.flow", "a flow must be above 0 kg/s; got '0 l/min'."),
        (
            ('"12,5 litre/minute"', '"-1 l/min"'),
            11,
            "circuit.1.pump.flow",
            "a flow must be above 0 kg/s; got '-1 l/min'.",
        ),
        (('"3 m"', '"9 m"'), 12, "circuit.1.pump.head", "a length must be 8 m or less; got '9 m'."),
        (('"30 cm"', '"-30 cm"'), 7, "circuit.0.lengths.1", "a length must be above 0 m"),
        (("top = 0.9", "top = 1.9"), 6, "circuit.0.heights.top", "a plain number or share must be 1 or less; got 1.9"),
        (('"1.85 W/K"', '"1.85 kW"'), 5, "circuit.0.loss", "'1.85 kW' is a power, not a heat loss"),
        (('"60 mm"', '"60 W"'), 14, "circuit.1.loss.thickness", "'60 W' is a power, not a length"),
        (("thickness =", "thicknes ="), 14, "circuit.1.loss.thicknes", "is not a key that is known here"),
        (('thickness = "60 mm"', ""), 13, "circuit.1.loss.thickness", "is missing"),
        (('name = "floor"', ""), 8, "circuit.1.name", "is missing"),
        (("format = 1", 'format = "one"'), 1, "format", "input should be a valid integer"),
        (('name = "floor"', "name = 3"), 9, "circuit.1.name", "input should be a valid string; got 3"),
        (("pump = {", "pump = [ 1 ] #"), 4, "circuit.0.pump", "input should be a valid dictionary"),
    ],
)
def test_each_fault_is_named_by_line_and_key(change, line, key, says):
    old, new = change
    assert old in GOOD
    found = faults_of(GOOD.replace(old, new, 1))
    assert any(fault[:2] == (line, key) and says in fault[2] for fault in found), found


@pytest.mark.parametrize("wrong", ['loss = "1.85 kW"', 'loss = { thickness = "60 W" }', "loss = { thick = 1 }"])
def test_a_quantity_or_a_table_is_faulted_once_for_the_form_that_was_meant(wrong):
    found = faults_of(GOOD.replace('loss = "1.85 W/K"', wrong))
    assert not any("dictionary" in says or "must be a text" in says for _, _, says in found), found


def test_every_fault_is_told_at_once_in_the_order_of_the_lines():
    text = GOOD.replace('"10 l/min"', '"x"').replace('"3 m"', '"y"').replace("format = 1", "formatt = 1")
    found = faults_of(text)
    assert [fault[:2] for fault in found] == [
        (1, "format"), (1, "formatt"), (4, "circuit.0.pump.flow"), (12, "circuit.1.pump.head"),
    ]  # fmt: skip
    with pytest.raises(UnreadableDocument, match=r"file\.toml, line 4: circuit\.0\.pump\.flow: 'x' is not a flow"):
        parse(text, System, "file.toml")


LAYOUT_FAULTS = [
    ('a = 1\na = 2\n', 2, "a key is written twice (cannot overwrite a value)"),
    ("[a]\nx = 1\n[a]\n", 3, "a table is written twice (cannot declare ('a',) twice)"),
    ("a = { x = 1, x = 2 }", 1, "a key is written twice (duplicate inline table key 'x')"),
    ("a = vented", 1, "a value cannot be read; a text or a quantity stands in quotes (invalid value)"),
    ("b = 1\na = 300 litre", 2, "there is more after a value; a text or a quantity stands in quotes"),
    ("format", 1, "a key, in quotes if it is not plain letters, is followed by = and its value"),
    ('a = "300 litre\nb = 1', 1, "a text is not closed by a quote on its line"),
    ("a = '300 litre", 1, "a text is not closed by its quote"),
    ('a = 1\nb = """text', 2, "a text is not closed by its quotes"),
    ("a = [ 1 2 ]", 1, "a list is not closed by ] or lacks a comma"),
    ("a = { x = 1 y = 2 }", 1, "a table in braces is not closed by } or lacks a comma"),
    ("[store\nx = 1", 1, "the name of a table is not closed by ]"),
    ("höhe = 1", 1, "a key, in quotes if it is not plain letters, is followed by ="),
    ("= 1", 1, "a line begins with neither a key nor a table"),
    ("a = { x = 1,\ny = 2 }", 1, "a key is missing; a table in braces stands on one line"),
    ('a = "c:\\windows"', 1, "a backslash in a text in double quotes must be doubled"),
    ("a = {}\n[a.b]\n", 2, "a table is written twice"),
    ("a = { x = 1 }\na.y = 2\n", 2, "cannot be read (cannot mutate"),
    ("a = " + "[" * 5000, 1, "is nested far too deep"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "says"), LAYOUT_FAULTS, ids=[text[:12] for text, _, _ in LAYOUT_FAULTS])
def test_a_fault_of_layout_is_said_in_plain_words_with_its_line(text, line, says):
    ((at, key, said),) = faults_of(text)
    assert (at, key) == (line, "layout")
    assert said.startswith(says)


def test_a_fault_of_the_whole_file_is_told_at_its_first_line():
    assert faults_of("3", list[int]) == [(1, "layout", faults_of("3", list[int])[0][2])]
    assert faults_of("a = 1", list[int])[0][:2] == (1, "file")


def test_a_file_is_read_with_or_without_a_byte_order_mark(tmp_path):
    for encoding in ("utf-8", "utf-8-sig"):
        path = tmp_path / f"{encoding}.toml"
        path.write_text(GOOD, encoding=encoding)
        assert read(path, System) == parse(GOOD, System)


def test_a_file_that_cannot_be_read_is_a_fault_of_the_file(tmp_path):
    path = tmp_path / "not there.toml"
    with pytest.raises(UnreadableDocument, match=r"not there\.toml, line 0: file: there is no such file"):
        read(path, System)
    path.write_bytes(b"name = '\xff'")
    with pytest.raises(UnreadableDocument, match="file: is not text in UTF-8"):
        read(path, System)
    with pytest.raises(UnreadableDocument, match="file: cannot be opened: "):
        read(tmp_path, System)


def test_a_fault_prints_as_the_checker_says_it():
    assert str(Fault("a.toml", 3, "store.volume", "is missing")) == "a.toml, line 3: store.volume: is missing"
