"""Exercises, own values, the answer book and marking; nothing here needs a screen."""
