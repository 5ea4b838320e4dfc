"""Workbooks tell, the library does: what every notebook must keep to, before anybody runs it."""

import json
import re

import pytest

from tlib import tables

WORKBOOKS = sorted(tables.shipped("workbooks").glob("*.ipynb"))


def cells(path, kind):
    book = json.loads(path.read_text(encoding="utf-8"))
    return [(cell, "".join(cell["source"])) for cell in book["cells"] if cell["cell_type"] == kind]


def test_there_are_workbooks():
    assert WORKBOOKS


@pytest.mark.parametrize("path", WORKBOOKS, ids=lambda path: path.stem)
class TestWorkbook:
    def test_it_is_ours_and_runs_anywhere(self, path):
        metadata = json.loads(path.read_text(encoding="utf-8"))["metadata"]
        assert metadata["kernelspec"]["name"] == "python3"
        assert re.fullmatch(r"\d\d", metadata["tlib"]["workbook"])
        assert path.stem.startswith(metadata["tlib"]["workbook"])
        assert "widgets" not in metadata

    def test_it_is_short(self, path):
        book = json.loads(path.read_text(encoding="utf-8"))
        assert len(book["cells"]) <= 40
        assert max(len(source.splitlines()) for _, source in cells(path, "code")) <= 8

    def test_logic_stays_in_the_library(self, path):
        for _, source in cells(path, "code"):
            assert not re.search(r"^\s*(def|class|for|while|lambda)\b", source, re.M), source

    def test_only_compared_cells_keep_their_output(self, path):
        kept = [cell for cell, _ in cells(path, "code") if cell["outputs"]]
        assert kept, "nbval would compare nothing"
        for cell in kept:
            assert "nbval-check-output" in cell["metadata"]["tags"]
            assert cell["execution_count"], "nbval skips a cell without a count"
        assert all("nbval-check-output" not in cell["metadata"].get("tags", []) or cell["outputs"]
                   for cell, _ in cells(path, "code"))  # fmt: skip

    def test_no_cell_can_be_changed_or_lost_by_a_slip(self, path):
        book = json.loads(path.read_text(encoding="utf-8"))
        for cell in book["cells"]:
            assert cell["metadata"]["editable"] is False
            assert cell["metadata"]["deletable"] is False
        assert all(cell["metadata"]["jupyter"]["source_hidden"] for cell, _ in cells(path, "code"))

    def test_the_first_cell_says_what_to_do_without_the_extension(self, path):
        assert "choose **Run**, then **Run All Cells**" in cells(path, "markdown")[0][1]

    def test_every_picture_in_the_text_is_told_in_words(self, path):
        for _, source in cells(path, "markdown"):
            for alt in re.findall(r"!\[(.*?)\]\(", source, re.S):
                assert len(alt.split()) >= 8, alt

    def test_it_carries_its_caution(self, path):
        assert any("caution" in source for _, source in cells(path, "code"))
