"""What each workbook shows of its own: its panel, built from a pure function, and its sums, one module or two a book.

A module with a panel has `SIGHT` (and `MORE`), `PRESETS`, `pictures`, which takes the value of each control by name,
`prediction` and `panel`.
"""
