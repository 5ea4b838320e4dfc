"""Start JupyterLab on a learner's folder: no dialogs, no questions on the terminal, nothing asked of the internet."""

import os
import sys
from pathlib import Path

__all__ = ["address", "begin_kernel", "make_server", "options"]

_FIRST = "import tlib.panels"
"""What every workbook imports first."""


def options(folder, workbook, port=None, browser=True):
    """Return the options that JupyterLab is started with.

    Parameters
    ----------
    folder : Path
        The learner's folder.
    workbook : str
        The file name of the workbook to open.
    port : int, optional
        The port; by default the first free one from 8888.
    browser : bool
        Whether to open the browser.

    Returns
    -------
    list of str
        Options; the token that keeps others out is left on.

    Examples
    --------
    >>> "--ServerApp.port=8899" in options("answers", "04-filling.ipynb", port=8899)
    True
    """
    return [
        f"--ServerApp.root_dir={Path(folder).resolve()}",
        f"--LabApp.default_url=/lab/tree/{workbook}?reset",  # reset: no tabs of last week come back
        f"--LabApp.workspaces_dir={_workspaces()}",  # our own, for reset must not touch those of other work
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        "--ServerApp.terminals_enabled=False",
        "--ServerApp.answer_yes=True",  # Ctrl-C stops at once and asks nothing
        "--KernelManager.transport_encryption=auto",  # other users of the computer cannot listen in
        "--Application.log_level=ERROR",
        f"--ServerApp.open_browser={browser}",
        *([] if port is None else [f"--ServerApp.port={port}", "--ServerApp.port_retries=0"]),
        # A browser that Linux keeps in a box cannot read the hidden file that would hand it the address.
        *(["--ServerApp.use_redirect_file=False"] if sys.platform == "linux" else []),
        *(["--allow-root"] if getattr(os, "geteuid", lambda: 1)() == 0 else []),
    ]


def make_server(folder, workbook, port=None, browser=True):
    """Return a JupyterLab server, ready to start with its ``start`` method.

    Parameters
    ----------
    folder, workbook, port, browser
        As for `options`.

    Returns
    -------
    jupyter_server.serverapp.ServerApp
        Its `address` is what a browser opens.
    """
    # At its import jsonschema would build a grammar of international web names, two thirds of the whole start (2.8 of
    # 4.0 s). It does without where that package is missing, and nothing here checks such a name.
    sys.modules.setdefault("rfc3987_syntax", None)
    from jupyterlab.labapp import LabApp

    return LabApp.initialize_server(argv=options(folder, workbook, port, browser))


def begin_kernel(server, workbook):
    """Start the workbook's kernel, and what it imports first, while the browser still loads the page.

    Parameters
    ----------
    server : jupyter_server.serverapp.ServerApp
        Made, and not started yet.
    workbook : str
        The file name of the workbook.

    Notes
    -----
    JupyterLab looks for a session of the workbook before it begins one, and finds this one. Should it not start, that
    is written in the server's log, and JupyterLab begins its own, as it does for every other workbook.
    """

    async def begin():
        told = {"path": workbook, "name": workbook, "type": "notebook", "kernel_name": "python3"}
        session = await server.session_manager.create_session(**told)
        client = server.kernel_manager.get_kernel(session["kernel"]["id"]).client()
        client.start_channels(iopub=False, stdin=False, hb=False)
        try:
            await client.execute(_FIRST, silent=True, store_history=False, allow_stdin=False, reply=True, timeout=60)
        finally:
            client.stop_channels()

    server.io_loop.add_callback(begin)


def address(server):
    """Return the address that a browser opens, with the token that lets it in."""
    return f"{server.connection_url}?token={server.identity_provider.token}"


def _workspaces():
    import platformdirs

    named = os.environ.get("JUPYTERLAB_WORKSPACES_DIR")
    return named or platformdirs.user_state_path("thermal-store-workbook", appauthor=False) / "workspaces"
