"""Controls: a slider with its number box, a choice between named things, and the column that holds them."""

from dataclasses import dataclass
from decimal import Decimal
from functools import partial

import ipywidgets as widgets

from tlib.panels.disclosure import Disclosure
from tlib.panels.fields import button, side_by_side
from tlib.panels.markup import paragraph, shown
from tlib.validation import OutOfRange, require

__all__ = ["IN_SIGHT", "Choice", "Control", "Controls", "ends", "starts"]

IN_SIGHT = 5
"""The most controls a panel shows before a learner asks for more."""


@dataclass(frozen=True)
class Control:
    """A quantity that a learner sets with a slider or types as a number.

    Parameters
    ----------
    name : str
        The keyword under which its value reaches the picture function: ``"store_at_lighting"``.
    low, high, step, start : float
        The ends of the slider, its step and where it begins, in `unit`.
    unit : str
        The trade unit, as a learner reads it; empty for a plain number.
    help : str, optional
        One short sentence below the slider.
    decimals : int, optional
        Decimals of a value; by default those that the step and the start are written with.
    label : str, optional
        What a learner reads; by default the name in words.

    Examples
    --------
    >>> logs = Control("logs", 0, 20, 0.5, 8, "kg")
    >>> logs.said, logs.decimals
    ('Logs (kg)', 1)
    """

    name: str
    low: float
    high: float
    step: float
    start: float
    unit: str
    help: str = ""
    decimals: int | None = None
    label: str = ""

    def __post_init__(self):
        require(self.high, f"the upper end of {self.name}", self.unit, above=self.low)
        require(self.step, f"the step of {self.name}", self.unit, above=0, at_most=self.high - self.low)
        require(self.start, f"the start of {self.name}", self.unit, at_least=self.low, at_most=self.high)
        object.__setattr__(self, "label", self.label or _in_words(self.name))
        if self.decimals is None:
            object.__setattr__(self, "decimals", max(_decimals(n) for n in (self.step, self.start, self.low)))

    @property
    def said(self):
        """The label with its unit, as the slider shows it."""
        return f"{self.label} ({self.unit})" if self.unit else self.label

    @property
    def ends(self):
        """The values at both ends, which every panel must be able to draw."""
        return (float(self.low), float(self.high))

    def accepted(self, value):
        """Return a value as this control keeps it; raise `OutOfRange` beyond its ends."""
        number = require(value, self.label, self.unit, at_least=self.low, at_most=self.high)
        return round(float(number), self.decimals)

    def written(self, value):
        """Return a value with its unit, for a sentence."""
        return f"{value:.{self.decimals}f} {self.unit}".strip()

    def row(self):
        """Return the widgets that set it."""
        return _SliderRow(self)


@dataclass(frozen=True)
class Choice:
    """A thing that a learner picks from a short list.

    Parameters
    ----------
    name : str
        The keyword under which the pick reaches the picture function.
    options : sequence of str, or mapping of str to object
        What a learner reads; with a mapping, the value that the picture function gets for each.
    start : object, optional
        The value it begins with; the first one when left out.
    help : str, optional
        One short sentence below the list.
    label : str, optional
        What a learner reads above it; by default the name in words.

    Examples
    --------
    >>> Choice("pump", {"pump on": True, "pump off": False}).ends
    (True, False)
    """

    name: str
    options: object
    start: object = None
    help: str = ""
    label: str = ""

    def __post_init__(self):
        pairs = dict(self.options) if hasattr(self.options, "items") else {text: text for text in self.options}
        object.__setattr__(self, "options", tuple(pairs.items()))
        object.__setattr__(self, "label", self.label or _in_words(self.name))
        if self.start is None:
            object.__setattr__(self, "start", self.options[0][1])
        self.accepted(self.start)

    @property
    def said(self):
        """The label, as the list shows it."""
        return self.label

    @property
    def ends(self):
        """Every value, for each of them must draw."""
        return tuple(value for _, value in self.options)

    def accepted(self, value):
        """Return a value if it is one of the list; raise `OutOfRange` otherwise."""
        if value not in self.ends:
            raise OutOfRange(f"{self.label} must be one of {', '.join(map(str, self.ends))}; got {value}.")
        return value

    def written(self, value):
        """Return the words a learner picked."""
        return next(text for text, kept in self.options if kept == value)

    def row(self):
        """Return the widgets that set it."""
        return _ChoiceRow(self)


class _Row:
    """One control on the page. Several widgets may show its value; a change of any is told once."""

    def __init__(self, control, shows):
        self.control, self._shows, self._told, self._quiet = control, shows, lambda: None, False
        told = f"{control.label} back to {control.written(control.start)}"
        self.reset = button("Reset", lambda: self._take(control.start), "plain", told)
        for widget in shows:
            widget.observe(lambda change: None if self._quiet else self._take(change["new"]), "value")

    @property
    def value(self):
        """The value as the picture function gets it."""
        return self.control.accepted(self._shows[0].value)

    def on_change(self, told):
        """Call a function, without arguments, once for each change that a learner makes."""
        self._told = told

    def set(self, value):
        """Show a value in every widget and tell nobody."""
        value = self.control.accepted(value)
        self._quiet = True
        try:
            for widget in self._shows:
                if widget.value != value:
                    widget.value = value
        finally:
            self._quiet = False

    def _take(self, value):
        self.set(value)
        self._told()


class _SliderRow(_Row):
    def __init__(self, control):
        limits = {"min": control.low, "max": control.high, "step": control.step, "value": control.start}
        self.slider = widgets.FloatSlider(description=control.said, readout=False, **limits)
        self.box = widgets.BoundedFloatText(description=f"{control.said}, type a number", **limits)
        self.box.add_class("tlib-box")
        super().__init__(control, (self.slider, self.box))
        unit = shown(paragraph(control.unit or " "), "unit")
        span = f"{control.low:g} to {control.high:g} {control.unit}".strip()
        words = shown(paragraph(f"{span}. {control.help}" if control.help else span, "quiet"), "words")
        self.widget = widgets.Box([self.slider, self.box, unit, self.reset, words])
        self.widget.add_class("tlib-row")


class _ChoiceRow(_Row):
    def __init__(self, control):
        self.list = widgets.Dropdown(description=control.said, options=control.options, value=control.start)
        super().__init__(control, (self.list,))
        words = [shown(paragraph(control.help, "quiet"), "words")] if control.help else []
        self.widget = widgets.Box([self.list, self.reset, *words])
        for kind in ("tlib-row", "tlib-pick"):
            self.widget.add_class(kind)


class Controls:
    """The column of controls: at most five in sight, the rest below *More settings*, presets under them.

    Parameters
    ----------
    in_sight : sequence of Control or Choice
        At most `IN_SIGHT`.
    more : sequence of Control or Choice, optional
        Those a learner asks for.
    presets : mapping of str to mapping, optional
        By the words on its button, the values that differ from the start. A preset sets every control.

    Raises
    ------
    OutOfRange
        If too many are in sight, two share a name, or a preset names an unknown control or an impossible value.
    """

    def __init__(self, in_sight, more=(), presets=None):
        if len(in_sight) > IN_SIGHT:
            raise OutOfRange(
                f"A panel shows at most {IN_SIGHT} controls at once, so that a learner can see what each does; "
                f"got {len(in_sight)}. Put the others under `more`."
            )
        self.all = (*in_sight, *more)
        self.rows = {control.name: control.row() for control in self.all}
        if len(self.rows) != len(self.all):
            raise OutOfRange(f"Each control must have a name of its own; got {[c.name for c in self.all]}.")
        self.presets = {words: self._complete(words, values) for words, values in (presets or {}).items()}
        self._told = lambda: None
        for row in self.rows.values():
            row.on_change(lambda: self._told())
        self.widget = widgets.VBox(self._column(len(in_sight)))
        self.widget.add_class("tlib-controls")

    def values(self):
        """Return every value by name."""
        return {name: row.value for name, row in self.rows.items()}

    def set(self, **values):
        """Set some controls, and tell of it once."""
        accepted = self._accepted("The call", values)
        for name, value in accepted.items():
            self.rows[name].set(value)
        self._told()

    def on_change(self, told):
        """Call a function, without arguments, once for each change, however many controls it touches."""
        self._told = told

    def _complete(self, words, values):
        start = {control.name: control.start for control in self.all}
        return start | self._accepted(f"The preset {words!r}", values)

    def _accepted(self, who, values):
        if unknown := values.keys() - self.rows.keys():
            raise OutOfRange(f"{who} names {', '.join(sorted(unknown))}; the controls are {', '.join(self.rows)}.")
        return {name: self.rows[name].control.accepted(value) for name, value in values.items()}

    def _column(self, in_sight):
        rows = [row.widget for row in self.rows.values()]
        column = rows[:in_sight]
        if rows[in_sight:]:
            more = widgets.VBox(rows[in_sight:])
            more.add_class("tlib-more")
            self.more = Disclosure("More settings", "Fewer settings", more)
            column.append(self.more.widget)
        start = {"Back to the start": self._complete("Back to the start", {})}
        self.buttons = {
            words: button(words[0].upper() + words[1:], partial(self.set, **values))
            for words, values in (self.presets | start).items()
        }
        return [*column, shown(paragraph("Places to visit", "quiet")), side_by_side(*self.buttons.values())]


def starts(*controls):
    """Return the value that each control begins with.

    Parameters
    ----------
    *controls : Control or Choice
        Those of a panel.

    Returns
    -------
    dict
        Values by name.

    Examples
    --------
    >>> starts(Control("logs", 0, 20, 0.5, 8, "kg"))
    {'logs': 8.0}
    """
    return {control.name: control.accepted(control.start) for control in controls}


def ends(controls):
    """Yield values that a panel must be able to draw: each control at each end, then all low, then all high.

    Parameters
    ----------
    controls : sequence of Control or Choice
        Those of a panel.

    Yields
    ------
    dict
        Values by name.

    Examples
    --------
    >>> list(ends([Control("logs", 0, 20, 1, 8, "kg")]))
    [{'logs': 0.0}, {'logs': 20.0}, {'logs': 0.0}, {'logs': 20.0}]
    """
    start = starts(*controls)
    for control in controls:
        for value in control.ends:
            yield start | {control.name: value}
    for place in (0, -1):
        yield {control.name: control.ends[place] for control in controls}


def _in_words(name):
    words = name.replace("_", " ")
    return words[:1].upper() + words[1:]


def _decimals(number):
    return max(-Decimal(repr(number)).normalize().as_tuple().exponent, 0)
