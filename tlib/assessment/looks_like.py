"""What a learner reads of the ideas that an answer looks like: never "you did", and a question where it may be two."""

__all__ = ["looks_like", "lowered", "which_is_it"]

_COUNTS = {2: "Two", 3: "Three"}


def looks_like(slips, what):
    """Return the sentence on one slip, or that it may be more than one that gives this number, order or the like."""
    if len(slips) == 1:
        return f"This looks like: {lowered(slips[0].feedback)}"
    return f"More than one slip gives this {what}."


def which_is_it(slips, what):
    """Return the question that asks which of several slips it is."""
    ideas = "; or that ".join(slip.idea for slip in slips)
    return f"{_COUNTS.get(len(slips), 'Several')} slips give this {what}. Which is it: working that {ideas}?"


def lowered(line):
    """Return a line to stand after a colon: with a small letter, unless its first word is a name or a sign."""
    return line[0].lower() + line[1:] if line[1:2].islower() or line[1:2] == " " else line
