"""Exercises, own values, the answer book and marking; nothing here needs a screen.

The short way through: ``bank.load()`` gives the exercises, ``draw`` a learner's own values, ``question`` the words
with those numbers in them, and an ``AnswerBook`` keeps what is typed.
"""

from tlib.assessment import bank, desk
from tlib.assessment.answer_book import AnswerBook
from tlib.assessment.answers import Answer
from tlib.assessment.own_values import draw, practice_key
from tlib.assessment.wording import question

__all__ = ["Answer", "AnswerBook", "bank", "desk", "draw", "practice_key", "question"]
