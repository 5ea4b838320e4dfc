"""Write a small file whole or not at all."""

import os
import time
from pathlib import Path

__all__ = ["write_whole"]


def write_whole(path, data):
    """Write bytes to a file so that a reader sees the old ones or the new ones, never a part.

    Parameters
    ----------
    path : Path
        Where the bytes shall stand.
    data : bytes
        All of them.

    Notes
    -----
    On Windows a file cannot be replaced while another program (often a virus scanner) holds it open, so the
    last step is tried again for about a second.
    """
    path = Path(path)
    name = path.with_name(f".writing-{os.getpid()}-{path.name}")
    try:
        with name.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _replace(name, path)
    except BaseException:
        name.unlink(missing_ok=True)
        raise


def _replace(name, path):
    for wait in (0.05, 0.1, 0.2, 0.3, 0.4):
        try:
            os.replace(name, path)
            return
        except PermissionError:
            time.sleep(wait)
    os.replace(name, path)
