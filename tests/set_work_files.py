"""A small class and a small piece of work, for the tests of setting."""

CLASS = "number,name\n17,Noor\n18,Gwil\n"
WORK = """\
format = 1
id = "autumn-1"
title = "Stored heat"
class = "class.csv"
exercises = ["logs-tonight-1"]
"""


def write(folder, work=WORK, names=CLASS):
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "class.csv").write_text(names, encoding="utf-8")
    (folder / "work.toml").write_text(work, encoding="utf-8")
    return folder / "work.toml"
