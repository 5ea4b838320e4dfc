"""The learner's own copies of the workbooks: clean and current, and nothing a learner wrote is ever lost."""

import json
import re
import shutil
from pathlib import Path

from tlib.assessment.replacing import write_whole
from tlib.tables import shipped

__all__ = ["NoWorkbook", "bring_hand_out", "clean", "copy_workbooks", "find_workbook"]


class NoWorkbook(ValueError):
    """No workbook goes by that number or name."""


def clean(text):
    """Return a notebook's text without outputs, counts and widget state.

    Parameters
    ----------
    text : str
        The notebook as JSON.

    Returns
    -------
    str
        The same notebook as it was before anyone ran it.

    Examples
    --------
    >>> ran = {"cells": [{"cell_type": "code", "source": "1", "outputs": ["1"], "execution_count": 3}], "metadata": {}}
    >>> json.loads(clean(json.dumps(ran)))["cells"][0]["outputs"]
    []
    """
    notebook = json.loads(text)
    notebook["metadata"].pop("widgets", None)
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell |= {"outputs": [], "execution_count": None}
    return json.dumps(notebook, indent=1, ensure_ascii=False) + "\n"


def copy_workbooks(folder, source=None):
    """Bring a learner's copies of the workbooks and their images up to date.

    A copy that says something else than the shipped workbook is kept beside the new one, as ``04-name.old-1.ipynb``.

    Parameters
    ----------
    folder : Path
        The learner's folder; it must be there.
    source : Path, optional
        Where the shipped workbooks are; by default those that came with the package.

    Returns
    -------
    list of Path
        The copies that were kept aside.
    """
    source = Path(source) if source is not None else shipped("workbooks")
    folder = Path(folder)
    if folder.resolve() == source.resolve():
        raise ValueError("The learner's folder must not be the folder of the shipped workbooks.")
    kept = [_copy(book, folder / book.name) for book in sorted(source.glob("*.ipynb"))]
    if (source / "images").is_dir():
        shutil.copytree(source / "images", folder / "images", dirs_exist_ok=True)
    return [path for path in kept if path is not None]


def bring_hand_out(folder, place):
    """Bring a hand-out of set work into a learner's folder: its page, clean, and the papers.

    Parameters
    ----------
    folder : Path
        The learner's folder; it must be there.
    place : str or Path
        The hand-out: the folder in which a page stands beside a folder of papers of the same name.

    Returns
    -------
    str or None
        The file name of the page in the learner's folder; None if that place is no hand-out.
    """
    place, folder = Path(place), Path(folder)
    pages = sorted(place.glob("*.ipynb")) if place.is_dir() else []
    page = next((page for page in pages if page.with_suffix("").is_dir()), None)
    if page is None:
        return None
    papers = page.with_suffix("")
    if papers.resolve() != (folder / papers.name).resolve():
        shutil.copytree(papers, folder / papers.name, dirs_exist_ok=True)
        _copy(page, folder / page.name)
    return page.name


def find_workbook(folder, name):
    """Return the file name of a workbook in a learner's folder.

    Parameters
    ----------
    folder : Path
        The learner's folder.
    name : str
        A number such as ``"4"`` or ``"04"``, or a file name with or without its ending.

    Returns
    -------
    str
        The file's name.

    Raises
    ------
    NoWorkbook
        If there is none, with the ones there are.
    """
    files = [path.name for path in sorted(Path(folder).glob("*.ipynb")) if not re.search(r"\.old-\d+\.", path.name)]
    wanted = name.strip().removesuffix(".ipynb").lower()
    for file in files:
        stem = file.removesuffix(".ipynb").lower()
        if wanted == stem or (wanted.isdecimal() and stem.startswith(f"{wanted.zfill(2)}-")):
            return file
    there = ", ".join(file.removesuffix(".ipynb") for file in files) or "none"
    raise NoWorkbook(f"There is no workbook {name!r}. There are: {there}.")


def _copy(book, copy):
    """Write one clean copy; return where the old one is kept, or None if nothing had to be."""
    fresh = clean(book.read_text(encoding="utf-8"))
    old = copy.read_text(encoding="utf-8", errors="replace") if copy.exists() else fresh
    if old == fresh and copy.exists():
        return None
    aside = None
    if _says(old) != _says(fresh):
        aside = _free_name(copy)
        copy.rename(aside)
    write_whole(copy, fresh.encode())
    return aside


def _says(text):
    """Return what a reader and the kernel see of a notebook, whatever a run or a save added; None if unreadable."""
    try:
        notebook = json.loads(text)
        return [(cell["cell_type"], "".join(cell["source"])) for cell in notebook["cells"]]
    except (ValueError, KeyError, TypeError):
        return None


def _free_name(copy):
    number = 1
    while (aside := copy.with_name(f"{copy.stem}.old-{number}.ipynb")).exists():
        number += 1
    return aside
