"""What marking found, in the learner's words: the verdict, each mark with its reason, the worked sum."""

from html import escape

from tlib.assessment.marked import GATE_SAYS
from tlib.panels.markup import paragraph

__all__ = ["hint_offer", "marks_said", "own_said", "part_told", "said_besides"]

_KINDS = {"M": "Method", "A": "Number", "B": "Fact", "U": "Unit", "E": "Reason"}
_WORKED = {"number": "The sum", "written": "A good answer"}
_INFERRED = " We concluded this from your number alone."


def part_told(part, worked="", *, asks=True):
    """Return one marked part as markup.

    Parameters
    ----------
    part : MarkedPart
        From `tlib.assessment.mark`.
    worked : str, optional
        The worked sum in the learner's own numbers, when it may be seen.
    asks : bool, optional
        Whether to pass on the question back to the learner. Once the sum is shown that makes no sense; then the
        right options, steps or points are told instead.

    Returns
    -------
    str
        A live region: what it looks like, each mark and why, remarks, a question back, the sum.
    """
    said = [paragraph(part.says)] if part.says else []
    said += [paragraph(part.asks)] if part.asks and asks else []
    if part.lines:
        said.append(paragraph(f"{marks_said(part.earned, part.available)}:"))
        said.append("<ul>" + "".join(f"<li>{escape(_line(line))}</li>" for line in part.lines) + "</ul>")
    said += [paragraph(note, "quiet") for note in part.notes]
    if not asks:
        said += _right_things(part)
    if part.why and (not asks or part.verdict == "right"):
        said.append(paragraph(part.why))
    if worked:
        said.append(paragraph(f"{_WORKED.get(part.kind, 'Why')}: {worked}"))
    return f'<div role="status" aria-live="polite" class="tlib-told">{"".join(said)}</div>'


def marks_said(earned, available):
    """Return marks in words.

    Examples
    --------
    >>> marks_said(2.0, 3)
    '2 of 3 marks'
    """
    return f"{earned:g} of {available} mark{'s' * (available != 1)}"


def said_besides(marked):
    """Return what else there is to say of an exercise: marks that only a person can give, and how its safety stands."""
    waiting = marked.for_the_tutor
    told = [f"{waiting} of them only a person can give."] if waiting else []
    return [*told, *([GATE_SAYS[marked.gate]] if marked.gate in ("passed", "failed") else [])]


def own_said(question):
    """Return what in a question is the learner's own: its numbers, or the letters of its options and steps."""
    kinds = {part.kind for part in question.parts}
    if "number" in kinds:
        return "The numbers are your own."
    return "The letters are your own." if kinds & {"choice", "order", "trace"} else ""


def hint_offer(number, count, shares):
    """Return the words on the button of a hint: which one, and what it costs.

    Parameters
    ----------
    number, count : int
        Which hint it is, counting from 1, and how many there are.
    shares : sequence of float
        What each hint takes, as `tlib.assessment.marking.Terms` has it.

    Examples
    --------
    >>> hint_offer(1, 3, (0.0, 0.25, 0.5)), hint_offer(3, 3, (0.0, 0.25, 0.5))
    ('Hint 1 of 3: free', 'Hint 3 of 3: costs 50 % of the marks that are left')
    """
    share = shares[number - 1] if number <= len(shares) else 0.0
    cost = f"costs {100 * share:.0f} % of the marks{' that are left' * (number > 2)}" if share else "free"
    return f"Hint {number} of {count}: {cost}"


def _right_things(part):
    """Yield what would have been right, where that is no number and was not given."""
    if part.kind == "written":
        points = [f"{item.mark} mark{'s' * (item.mark != '1')}: {item.says}" for item in part.items]
        yield "<ul>" + "".join(f"<li>{escape(point)}</li>" for point in points) + "</ul>"
    elif part.kind != "number" and part.verdict != "right":
        yield paragraph(f"The right answer: {part.right}.")


def _line(line):
    told = f"{line.reason}{_INFERRED if line.inferred else ''}"
    if line.kind not in _KINDS:
        return f"{line.earned:g}: {told}"
    return f"{_KINDS[line.kind]}, {line.earned:g} of {line.available}: {told}"
