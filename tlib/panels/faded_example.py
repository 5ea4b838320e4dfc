"""A worked sum with lines left to the learner: each is read as an answer is, and told right or not yet."""

from html import escape

import ipywidgets as widgets

from tlib.assessment.quantities import UNITS
from tlib.assessment.typed import Unreadable, read_typed
from tlib.panels.fields import button, on_enter
from tlib.panels.markup import heading, paragraph, shown, status
from tlib.panels.sitting import CannotSave, sitting
from tlib.panels.style import sheet
from tlib.validation import OutOfRange

__all__ = ["WITHIN", "FadedExample"]

WITHIN = 0.03
"""How far off a line may be, as a share of it: a fair choice of constants moves an energy sum by so much."""
RIGHT, NOT_YET = "right", "not yet"


class FadedExample:
    """A sum of which some lines are given and the learner works the others.

    Parameters
    ----------
    name : str
        The name under which the answer book keeps what is typed, such as ``"second-evening"``.
    lines : sequence of tlib.sizing.Line
        The sum.
    yours : sequence of int, optional
        The lines, counting from 1, that the learner works; all of them by default.
    title, ask : str, optional
        The heading, and the numbers that the sum begins with.
    place : Sitting, optional
        Where it is kept; the page's own by default.

    Attributes
    ----------
    fields : dict of int to ipywidgets.Text
        Where the learner's lines are typed, by number.
    says : dict of int to ipywidgets.HTML
        What was said about each of them.
    check : ipywidgets.Button
        Has every line that is filled looked at.
    total : ipywidgets.HTML
        How many lines are right.
    widget : ipywidgets.VBox
        All of it.

    Raises
    ------
    OutOfRange
        If there are no lines, or a line is the learner's that is not there.

    Notes
    -----
    Nothing here earns marks: what was typed is kept as evidence. A line that is not right is told its rule in words,
    at the second miss its numbers, and from the third on what it gives, so that nobody is stuck.
    """

    def __init__(self, name, lines, yours=None, *, title="", ask="", place=None):
        self.name, self.lines, self._place = name, tuple(lines), place or sitting()
        numbers = range(1, len(self.lines) + 1)
        self._yours = tuple(sorted(numbers if yours is None else yours))
        if not self._yours or not set(self._yours) <= set(numbers):
            raise OutOfRange(f"yours must name lines from 1 to {len(self.lines)}; got {list(self._yours)}.")
        self.fields = {number: self._field(number) for number in self._yours}
        self.says = {number: shown(kind="says") for number in self._yours}
        self.check, self.total = button("Check my lines", self._look, "chief"), shown()
        head = [shown(heading(title))] if title else []
        head += [shown(paragraph(ask))] if ask else []
        rows = [self._row(number) for number in numbers]
        self.widget = widgets.VBox([sheet(), *head, *rows, self.check, self.total])
        for kind in ("tlib", "tlib-faded"):
            self.widget.add_class(kind)
        self._place.on_switch(self._restore)
        self._restore()

    @property
    def right(self):
        """The numbers of the learner's lines that are right."""
        return tuple(number for number in self._yours if self._verdicts[number] == RIGHT)

    def _field(self, number):
        field = widgets.Text(description=self._called(number), placeholder="number and unit", continuous_update=True)
        for kind in ("tlib-field", "tlib-above"):
            field.add_class(kind)
        on_enter(field, self._look)
        return field

    def _called(self, number):
        return f"Line {number}: {self.lines[number - 1].name}"

    def _row(self, number):
        if number in self.fields:
            row = widgets.VBox([self.fields[number], self.says[number]])
            row.add_class("tlib-line")
            return row
        line = self.lines[number - 1]
        given = f"{escape(line.working)} = {escape(line.says)}"
        return shown(f'<p><span class="tlib-quiet">{escape(self._called(number))}</span><br>{given}</p>')

    def _look(self):
        """Look at every line that is filled and not yet looked at."""
        for number, field in self.fields.items():
            text = field.value.strip()
            if not text or text == self._seen.get(number):
                continue
            verdict, words = self._judge(number, text)
            try:
                self._place.record("said", said=self._kept_as(number), text=text, checked=verdict)
            except CannotSave as fault:
                self.says[number].value = status(str(fault))
                continue
            self._count(number, text, verdict)
            self.says[number].value = status(self._told(number, words))
        self._sum_up()

    def _count(self, number, text, verdict):
        self._seen[number], self._verdicts[number] = text, verdict
        self._misses[number] = self._misses.get(number, 0) + (verdict == NOT_YET)

    def _judge(self, number, text):
        """Return the verdict on a line, and what to say besides its working."""
        line = self.lines[number - 1]
        unit = UNITS[line.wanted]
        wanted = unit.from_si(line.value)
        try:
            readings = read_typed(text, "", unit)
        except Unreadable as fault:
            return "", str(fault)
        near = [each for each in readings if abs(each.number - wanted) <= WITHIN * abs(wanted)]
        if not near:
            return NOT_YET, ""
        return (RIGHT, "") if near[0].unit_right else (NOT_YET, f"The number is right. {near[0].unit_says}")

    def _told(self, number, words):
        line, verdict = self.lines[number - 1], self._verdicts[number]
        if verdict == RIGHT:
            return f"Right. {line.working} = {line.says}."
        if words:
            return words
        before = next((each for each in self._yours if each < number and self._verdicts[each] == NOT_YET), None)
        first = f"Put line {before} right first. " if before else ""
        misses = self._misses[number]
        tail = (f"This line is {line.rule}", f"This line is {line.working}", f"It is {line.working} = {line.says}")
        return f"Not yet. {first}{tail[min(misses, 3) - 1]}."

    def _sum_up(self):
        done, all_of_them = len(self.right), len(self._yours)
        kept = "It is kept with your answers and earns no marks."
        said = f"{done} of your {all_of_them} lines {'is' if done == 1 else 'are'} right. {kept}"
        self.total.value = status(said, "quiet") if any(self._seen.values()) else ""

    def _kept_as(self, number):
        return f"{self.name}-{number}"

    def _restore(self):
        self._seen, self._misses = {}, {}
        self._verdicts = dict.fromkeys(self._yours, "")
        events = [each for each in self._place.events() if each["event"] == "said" and "checked" in each]
        for number, field in self.fields.items():
            for each in events:
                if each.get("said") == self._kept_as(number):
                    self._count(number, each["text"], each["checked"])
            field.value = self._seen.get(number, "" if self._place.before else field.value)
        for number in self.fields:
            self.says[number].value = self._told_again(number)
        self._sum_up()

    def _told_again(self, number):
        if number not in self._seen:
            return ""
        _, words = self._judge(number, self._seen[number])
        return status(self._told(number, words))

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)
