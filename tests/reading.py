"""Sentence lengths and reading ease of the words that a learner meets.

Words and syllables are counted as Flesch counts them: a figure, a symbol or a figure with its unit is one word of one
syllable, and a word with a hyphen is one word (Flesch, How to Write Plain English, chapter 2). He also ends a sentence
at a colon, a semicolon or a dash between full units; here only a full stop, a question mark and an exclamation mark end
one, and the end of a line of a list or of a paragraph. That makes sentences longer, never shorter.
"""

import ast
import json
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from tlib.tables import table

ROOT = Path(__file__).resolve().parents[1]
UNIT = r"(?:°C|K|[kM]?Wh?|[kM]?J|kg|mm|cm|m[23]?|k?Pa|A|V|Hz|h|s|g|l)(?:/(?:kg|K|m2|h|s|min|minute))?"
FIGURE = rf"[−-]?\d[\d.,:/]*(?:\s?%|\s{UNIT}(?![\w]))?"
SUM = re.compile(rf"\(*{FIGURE}\)*(?:\s*[×÷+=≈·−→]\s*\(*{FIGURE}\)*)+")
WORD = re.compile(r"[^\W_]+(?:['’/.,:-][^\W_]+)*")
ENDS = re.compile(r"(?<=[.?!])[\"”’)*]*\s+(?=[\"“(*]*[^\W_])|\n\s*\n|\n(?=\s*(?:[-*]|\d+\.)\s)")
SHORT = re.compile(r"\b(e\.g|i\.e|etc|approx|Fig|min|max)\.(?=\s)")
SILENT = re.compile(
    r"(?<=[^aeiouy])(?<!el)e(?=(?:ty|ful|fully|ly|ment|ments|less|where|thing)$)"  # safety, useful, safely
    r"|(?<=[^aeiouy])e$(?<![^aeiouyrlw]le)(?<![bct]re)"  # fire, but little and metre
    r"|(?<=[^aeiouytd])e(?=d$)(?<![^aeiouyrlw]le)"  # pumped, but heated and settled
    r"|(?<=[^aeiouycsxzg])e(?=s$)(?<![cs]he)(?<![^aeiouyrlw]le)(?<![bct]re)"  # pipes, not houses, angles, litres
)
APART = re.compile(  # vowels that stand together and are said apart
    r"(?<![qgctsx])i[ao]|io(?=l|ti|st)|(?<=[^q])ua(?=[lt])|iu|cre(?=at)|(?<=[aeouy])ing(?=s?$)|lui(?=d)"
    r"|[ao]y[ei]|quie(?=t)|scie(?=n)|(?<=[^ ]{2})ea$|(?<=[^ ]{2})eas$|ism$"
)


@dataclass(frozen=True)
class Text:
    """A piece of words and where it stands."""

    document: str
    place: str
    words: str


def sentences(text):
    """Return the sentences of a text, each line of a list on its own."""
    text = re.sub(r"\n {7,}[^\n]*\n", "\n\n", text)  # a command to type stands on a line of its own
    text = SHORT.sub(r"\1", re.sub(r"[ \t]+", " ", text))
    found = [re.sub(r"^(?:[-*#>]+|\d+\.)\s+", "", part.strip()) for part in ENDS.split(text)]
    return [" ".join(part.split()) for part in found if words(part)]


def words(sentence):
    """Return the words of a sentence, a sum or a figure with its unit as the one word 7."""
    return WORD.findall(re.sub(FIGURE, "7", SUM.sub("7", sentence)))


def syllables(word):
    """Return the syllables of a word by the rules of the schoolroom: vowel groups, two for some pairs, no silent e."""
    word = re.sub(r"['’]", "", re.sub(r"(?<=[ds])n['’]t$", "nit", word.lower()))  # couldn't is said in two
    if "-" in word or "/" in word:
        return sum(map(syllables, filter(None, re.split("[-/]", word))))
    if re.search(r"\d", word) or not re.search(r"[aeiouy]", word):
        return 1
    groups = re.findall(r"[aeiouy]+", SILENT.sub("", word))
    return max(len(groups) + len(APART.findall(word)), 1)


def trade_words():
    """Return a pattern for the words of the glossary, longest first."""
    terms = sorted(table("glossary")["word"], key=len, reverse=True)
    return re.compile(r"\b(?:" + "|".join(map(re.escape, terms)) + r")(?:s|es)?\b", re.IGNORECASE)


@dataclass(frozen=True)
class Score:
    """The counts of a document."""

    sentences: int
    words: int
    syllables: int

    @property
    def mean(self):
        """Words in a sentence."""
        return self.words / self.sentences

    @property
    def ease(self):
        """Flesch 1948."""
        return 206.835 - 1.015 * self.mean - 84.6 * self.syllables / self.words

    @property
    def grade(self):
        """Kincaid and others 1975."""
        return 0.39 * self.mean + 11.8 * self.syllables / self.words - 15.59


def score(texts, trade=None):
    """Return the counts of some texts; a trade word that came before counts one syllable a word."""
    met, totals = set(), [0, 0, 0]
    for text in texts:
        for sentence in sentences(text.words):
            totals[0] += 1
            totals[1] += len(words(sentence))
            totals[2] += sum(map(syllables, words(_plain(sentence, trade, met) if trade else sentence)))
    return Score(*totals)


def _plain(sentence, trade, met):
    def one(found):
        term = re.sub(r"e?s$", "", found[0].lower())
        if term in met:
            return " ".join("it" for _ in found[0].split())
        met.add(term)
        return found[0]

    return trade.sub(one, sentence)


# --- what a learner meets ---


def workbook_texts(path):
    """Yield the text cells of a workbook, without code, tables, sums and pictures."""
    for number, cell in enumerate(json.loads(path.read_text(encoding="utf-8"))["cells"], 1):
        if cell["cell_type"] == "markdown":
            said = "".join(cell["source"])
            said = re.sub(r"```.*?```|\$\$.*?\$\$|<[^>]+>|!\[[^\]]*\]\([^)]*\)", " ", said, flags=re.DOTALL)
            said = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", re.sub(r"(?m)^\|.*$", "", said))
            yield Text(
                path.name, f"cell {number}", re.sub(r"(?m)^(#.*)$", r"\1\n", said).replace("**", "").replace("`", "")
            )


def told(entry, names, under=""):
    """Yield every string that stands, by itself or in a list, under one of some names."""
    if isinstance(entry, dict):
        for name, inner in entry.items():
            yield from told(inner, names, name)
    elif isinstance(entry, list):
        for inner in entry:
            yield from told(inner, names, under)
    elif isinstance(entry, str) and under in names:
        yield entry


EXERCISE = {"story", "ask", "says", "because", "steps", "hints", "working", "for", "wrong", "parts"}


def exercise_texts(path):
    """Yield the words of an exercise, a typical number in each hole."""
    source = path.read_text(encoding="utf-8")
    entry = tomllib.loads(source)
    said = list(told(entry, EXERCISE))
    said += [text for part in entry["part"] for text in part.get("signs", {}).values()]
    for text in dict.fromkeys(said):
        line = source.count("\n", 0, max(source.find(text.strip()[:20]), 0)) + 1
        filled = re.sub(r"\{=[^{}]*\}", "7", text.replace("{site}", "Larkrigg Farm"))
        yield Text(path.name, f"line {line}", re.sub(r"\{[^{}]*\}", "7 kWh", filled))


def table_texts(path, names):
    """Yield the strings under some names of a table."""
    source = path.read_text(encoding="utf-8")
    for text in told(tomllib.loads(source), names):
        yield Text(path.name, f"line {source.count(chr(10), 0, max(source.find(text), 0)) + 1}", text)


def shown_constants(path):
    """Yield the sentences that a module shows: no docstrings, no refusals that it raises; 7 for what it fills in."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    left_out = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Raise) or (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
            left_out |= {id(inner) for inner in ast.walk(node)}
        elif isinstance(node, ast.JoinedStr):
            left_out |= {id(inner) for inner in ast.walk(node) if inner is not node}
    for node in ast.walk(tree):
        if (
            id(node) not in left_out
            and (said := _constant(node))
            and re.search(r"[.?!]", said)
            and len(said.split()) > 2
        ):
            said = re.sub(r"<[^>]*>", " ", said)
            if (
                re.match(r"\W*[A-Z7]", said)
                and re.search(r"[.?!:]\W*$", said)
                and not re.search(r"[{};]\s*$|\\w", said)
            ):
                yield Text(path.relative_to(ROOT).as_posix(), f"line {node.lineno}", said)


def _constant(node):
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(part.value if isinstance(part, ast.Constant) else "7" for part in node.values)
    return ""


def template_texts(path):
    """Yield the fixed words of a page, block by block."""
    page = re.sub(r"<style>.*?</style>", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
    page = re.sub(r"\{%.*?%\}", " ", re.sub(r"\{\{.*?\}\}", "7", page))
    for block in re.findall(r"<(?:p|li|h1|h2|h3|td|footer)[^>]*>(.*?)</(?:p|li|h1|h2|h3|td|footer)>", page, re.DOTALL):
        said = re.sub(r"<[^>]*>", " ", block)
        if len(words(said)) > 2:
            yield Text(path.name, "page", said)
