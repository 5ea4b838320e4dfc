"""Exercises, own values, the answer book and marking; nothing here needs a screen.

The short way through: ``bank.load()`` gives the exercises, ``draw`` a learner's own values, ``question`` the words
with those numbers in them, an ``AnswerBook`` keeps what is typed, and ``mark`` marks it.
"""

from tlib.assessment import bank, desk
from tlib.assessment.answer_book import AnswerBook
from tlib.assessment.answers import Answer
from tlib.assessment.marking import ASSIGNMENT, MOCK, PRACTICE, mark
from tlib.assessment.own_values import attempt_key, draw
from tlib.assessment.wording import question

__all__ = [
    "ASSIGNMENT",
    "MOCK",
    "PRACTICE",
    "Answer",
    "AnswerBook",
    "attempt_key",
    "bank",
    "desk",
    "draw",
    "mark",
    "question",
]
