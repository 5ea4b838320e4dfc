"""A day played on a picture: play and pause, one step back or on, a clock to move, and two speeds.

It begins at rest, and rests again whenever anything but the clock moves. The browser keeps the beat and asks for the
next picture; while one is being drawn the beats in between are left out, so none ever waits behind a learner's press.
"""

import math
from types import MappingProxyType

import ipywidgets as widgets

from tlib.panels.clock import in_words, minute_of
from tlib.panels.disclosure import Disclosure
from tlib.panels.easel import Easel
from tlib.panels.fields import button, on_enter, side_by_side
from tlib.panels.markup import blank, shown, status
from tlib.panels.style import sheet
from tlib.validation import OutOfRange, require

__all__ = ["BEAT", "PACES", "Playback"]

BEAT = 250
"""Time from one picture to the next [ms], so at most four in a second."""
PACES = MappingProxyType({"Quick: ten minutes a step": 10, "Slow: one minute a step": 1})
"""The speeds, by their words: minutes of the day in one step. The first is the one it begins with."""
DAY = 1440
"""Minutes that the clock has before there is a run; the browser's slider needs two ends that differ."""
LONGEST = 48 * 3600.0
"""The longest run that is played [s]."""
_HIDE = "Put the player away"


class Playback:
    """Plays a run on pictures.

    Parameters
    ----------
    frame : callable
        A pure function: takes a `tlib.simulation.Result` and a time after its start [s], and returns a sequence of
        pictures of that moment.
    run : callable
        A pure function: returns the result. In a panel it takes the value of each control by name, like the panel's
        own function; alone it takes nothing.
    paces : mapping of str to int, optional
        One speed or two, by their words: whole minutes in one step.
    getting_ready : callable, optional
        Returns whether the first drawing will take seconds, because the engine is still to be compiled.
    opens : str, optional
        What the button says that opens it.

    Attributes
    ----------
    minute : int
        The moment that is shown, in minutes after the start.
    result : tlib.simulation.Result or None
        What is played; None before the player is opened, and after a run that could not be.
    easel : Easel
        The pictures of the moment; its `fault` is what the last drawing raised.
    clock : ipywidgets.IntSlider
        The clock; its label holds the time in words.
    typed : ipywidgets.Text
        A time to go to.
    press, back, on, go_to : ipywidgets.Button
        Play or pause; one step back; one step on; go to the typed time.
    pace : ipywidgets.RadioButtons
        The speed; out of sight if there is only one.
    beat : ipywidgets.Play
        Keeps the beat in the browser, out of sight.
    widget : ipywidgets.VBox
        All of it: a button, until it is pressed.

    Raises
    ------
    OutOfRange
        If there is no speed or more than two, or one is less than a minute a step.

    Notes
    -----
    Until a learner opens the player, and again once it is put away, nothing is run and nothing is drawn. A run longer
    than two days is not played.
    """

    def __init__(self, frame, run, *, paces=PACES, getting_ready=None, opens="Watch it hour by hour"):
        require(len(paces), "the number of speeds", "", at_least=1, at_most=2)
        require(list(paces.values()), "a speed", "minutes a step", at_least=1)
        self._frame, self._run, self._values = frame, run, {}
        self._by_hand = self._ours = False
        self.result, self.minute, self.easel = None, 0, Easel(getting_ready)
        self.beat = widgets.Play(interval=BEAT, max=DAY, step=next(iter(paces.values())), show_repeat=False)
        self.clock = widgets.IntSlider(readout=False, max=DAY)
        self.pace = widgets.RadioButtons(options=list(paces.items()), description="Speed")
        self.typed = widgets.Text(description="Go to a time", placeholder="such as 06:30")
        self.press = button("Play", self.turn)
        self.back, self.on = button("One step back", lambda: self.step(-1)), button("One step on", lambda: self.step(1))
        self.go_to, self.says = button("Go", self._go_to_typed), shown(kind="says")
        self._bind()
        self._lay_out(opens)

    @property
    def is_open(self):
        """Whether the player is in sight."""
        return self._disclosure.is_open

    @property
    def is_playing(self):
        """Whether it moves by itself."""
        return self.beat.playing

    @property
    def last(self):
        """The last minute of the run."""
        return self.clock.max

    def take(self, **values):
        """Play another run from now on: the one for these values.

        Parameters
        ----------
        **values
            What `run` takes.
        """
        self._values = values
        if self.is_open:
            self.pause()
            self._begin()

    def turn(self):
        """Play, or pause."""
        if self.is_playing:
            self.pause()
            return
        if self.minute >= self.last:
            self.go(0)
        self.beat.playing = True

    def pause(self):
        """Stop where it is."""
        self._by_hand = True
        self.beat.playing = False
        self._by_hand = False

    def step(self, count):
        """Pause, then go some steps on, or back when below 0, and no further than the ends."""
        self.pause()
        self.go(min(max(self.minute + count * self.beat.step, 0), self.last))

    def go(self, minute):
        """Show one minute.

        Parameters
        ----------
        minute : int
            After the start.

        Raises
        ------
        OutOfRange
            If the run does not have it.
        """
        minute = int(require(minute, "the minute", "", at_least=0, at_most=self.last))
        self._set(minute)
        self._show(minute)

    def put_away(self):
        """Pause and go out of sight."""
        if self.is_open:
            self._disclosure.turn()

    def _bind(self):
        self.beat.observe(lambda change: self._ours or self._beat(change["new"]), "value")
        self.beat.observe(lambda change: self._turned(), "playing")
        self.clock.observe(lambda change: self._ours or self._clock_moved(change["new"]), "value")
        self.pace.observe(lambda change: setattr(self.beat, "step", change["new"]), "value")
        on_enter(self.typed, self._go_to_typed)

    def _set(self, minute, last=None):
        """Set clock and beat, and their end, without being told of it."""
        self._ours = True
        try:
            for part in (self.clock, self.beat):
                part.max, part.value = last or part.max, minute
        finally:
            self._ours = False

    def _lay_out(self, opens):
        blank(self.beat, hidden=True)
        blank(self.pace, hidden=len(self.pace.options) == 1)
        self.press.add_class("tlib-chief")  # by its look alone: one that waits for typing would pause too late
        self.clock.add_class("tlib-clock")
        self.pace.add_class("tlib-choice")
        self._deck = widgets.VBox([
            self.clock, side_by_side(self.press, self.back, self.on), self.pace,
            side_by_side(self.typed, self.go_to), self.says, self.beat,
        ])  # fmt: skip
        self._deck.add_class("tlib-deck")
        player = widgets.VBox([self._deck, self.easel.widget])
        player.add_class("tlib-column")
        self._disclosure = Disclosure(opens, _HIDE, player, self._begin, self.pause)
        self.widget = widgets.VBox([sheet(), self._disclosure.widget])
        self.widget.add_class("tlib")

    def _begin(self):
        """Run the day and show it where the clock stands."""
        self.result = None
        self.easel.draw(self._run_and_draw)
        blank(self._deck, hidden=self.result is None)
        if self.result is not None:
            self._write(self.minute)

    def _run_and_draw(self):
        result = self._run(**self._values)
        require(result.time[-1], "the length of a run that is played", "s", above=0, at_most=LONGEST)
        last = math.ceil(result.time[-1] / 60 - 1e-9)
        self.result, self.minute = result, min(self.minute, last)
        self._set(self.minute, last)
        return self._pictures()

    def _pictures(self):
        return self._frame(self.result, min(60.0 * self.minute, float(self.result.time[-1])))

    def _show(self, minute):
        if minute == self.minute or not self.is_open or self.result is None:
            return
        self.minute = minute
        self.easel.draw(self._pictures, aloud=not self.is_playing)
        self._write(minute)

    def _write(self, minute):
        self.clock.description = f"Time: {in_words(minute, self.result.begins)}"
        self.back.disabled, self.on.disabled = minute <= 0, minute >= self.last

    def _clock_moved(self, minute):
        self._set(minute)
        self._show(minute)

    def _beat(self, minute):
        """Go on by a step or more; a beat that was under way when the player was stopped, or moved, is taken back."""
        ahead = minute - self.minute
        goes_on = self.is_playing and ahead > 0 and ahead % self.beat.step == 0
        self._set(minute if goes_on else self.minute)
        self._show(self.clock.value)

    def _turned(self):
        self.press.description = "Pause" if self.is_playing else "Play"
        if self.is_playing:
            return
        if not self._by_hand and self.result is not None:
            self.go(self.last)  # the browser stops by itself only where another step would pass the end
        self.easel.speak()

    def _go_to_typed(self):
        try:
            minute = minute_of(self.typed.value, self.last, self.result.begins)
        except OutOfRange as fault:
            self.says.value = status(str(fault)[:1].upper() + str(fault)[1:])
            return
        self.says.value = ""
        self.pause()
        self.go(minute)

    def _ipython_display_(self):
        from IPython.display import display

        display(self.widget)
