"""Small verbs for a learner at a desk: start the server as the README says, open a workbook, press, look."""

import contextlib
import json
import os
import re
import secrets
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import TimeoutError as PlaywrightTimeout

SHOTS = Path(os.environ.get("TLIB_SHOTS", Path(tempfile.gettempdir()) / "shots"))
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge", "msedge")
PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    r"{PROGRAMFILES}\Google\Chrome\Application\chrome.exe",
    r"{PROGRAMFILES(X86)}\Google\Chrome\Application\chrome.exe",
    r"{LOCALAPPDATA}\Google\Chrome\Application\chrome.exe",
    r"{PROGRAMFILES(X86)}\Microsoft\Edge\Application\msedge.exe",
    r"{PROGRAMFILES}\Microsoft\Edge\Application\msedge.exe",
)
OWN_FOLDERS = ("CONFIG_DIR", "DATA_DIR", "RUNTIME_DIR")


def find_browser():
    """Return the path of a Chromium, Chrome or Edge that is installed, or None."""
    for name in NAMES:
        if found := shutil.which(name):
            return found
    for place in PLACES:
        path = re.sub(r"\{(.+?)\}", lambda match: os.environ.get(match[1], "?"), place)
        if Path(path).is_file():
            return path
    return None


def launch(driver, path):
    """Return a headless browser; root cannot use the browser's sandbox."""
    boxed = getattr(os, "geteuid", lambda: 1)() != 0
    return driver.chromium.launch(executable_path=path, args=[] if boxed else ["--no-sandbox"])


class Server:
    """``python -m tlib open`` on a free port, with folders of its own for everything it might read or write."""

    def __init__(self, home, workbook):
        self.folder = home / "tlib-answers"
        self.folder.mkdir(parents=True, exist_ok=True)
        self.home, self.workbook, self.token = home, workbook, secrets.token_hex(16)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]

    @property
    def address(self):
        return f"http://127.0.0.1:{self.port}/"

    def __enter__(self):
        own = {f"JUPYTER_{name}": str(self.home / name.lower()) for name in OWN_FOLDERS}
        own |= {f"JUPYTERLAB_{name}_DIR": str(self.home / name.lower()) for name in ("SETTINGS", "WORKSPACES")}
        command = [sys.executable, "-m", "tlib", "open", *filter(None, [self.workbook]), "--no-browser"]
        command += ["--port", str(self.port), "--folder", str(self.folder)]
        self.log = (self.home / "server.log").open("w", encoding="utf-8")
        self.process = subprocess.Popen(
            command,
            env=os.environ | own | {"JUPYTER_TOKEN": self.token},
            stdin=subprocess.DEVNULL,
            stdout=self.log,
            stderr=subprocess.STDOUT,
        )
        try:
            self._wait_until_up()
        except BaseException:
            self.__exit__()
            raise
        return self

    def _wait_until_up(self):
        for _ in range(600):
            if self.process.poll() is not None:
                break
            with contextlib.suppress(OSError):
                urllib.request.urlopen(self.address + "api", timeout=1).close()
                return
            time.sleep(0.1)
        raise RuntimeError(f"the server did not start:\n{(self.home / 'server.log').read_text(encoding='utf-8')}")

    def ask(self, path, method="GET"):
        """Ask the server's own interface; return the bytes it answers."""
        request = urllib.request.Request(
            self.address + path, method=method, headers={"Authorization": f"token {self.token}"}
        )
        with urllib.request.urlopen(request, timeout=30) as answer:
            return answer.read()

    def end_kernels(self):
        """End every kernel, so that the next workbook opens in a fresh one."""
        for session in json.loads(self.ask("api/sessions")):
            self.ask(f"api/sessions/{session['id']}", "DELETE")

    def __exit__(self, *_):
        with contextlib.suppress(OSError):
            self.ask("api/shutdown", "POST")
        try:
            self.process.wait(15)
        except subprocess.TimeoutExpired:
            self.process.terminate()
            self.process.wait(15)
        self.log.close()


class Desk:
    """One browser page and what a learner does with it."""

    def __init__(self, page, server):
        self.page, self.server, self.requests = page, server, []
        page.set_default_timeout(120_000)
        page.on("request", lambda request: self.requests.append(request.url))
        page.on("websocket", lambda socket: self.requests.append(socket.url))

    def open_book(self, file=None):
        """Open the page the command opens, or another workbook of the folder, and wait until it has run."""
        self.go(file)
        self.wait_ready()

    def go(self, file=None):
        """Open a page without waiting for it to run."""
        path = f"lab/tree/{file}?reset&token={self.server.token}" if file else f"?token={self.server.token}"
        self.page.goto(self.server.address + path)

    def wait_ready(self, runs=1, state="ok"):
        """Wait for the ready mark of the workbook in sight."""
        mark = self.page.locator(f'.tlib-page[data-tlib-runs="{runs}"][data-tlib-ready="{state}"]:visible')
        try:
            mark.wait_for()
        except Exception as fault:
            raise AssertionError(
                f"no {state!r} after run {runs}; dialogs {self.dialogs()}, says {self.says()!r}"
            ) from fault

    def runs(self):
        return int(self.page.locator(".tlib-page:visible").get_attribute("data-tlib-runs") or 0)

    def says(self):
        """Return the line above the page."""
        return " ".join(self.page.locator(".tlib-status:visible").all_text_contents()).strip()

    def dialogs(self):
        return self.page.locator(".jp-Dialog, .jp-toastContainer [role=alert]").all_text_contents()

    def slider(self, name):
        return self.page.get_by_role("slider", name=name)

    def press(self, name, key="ArrowRight", times=1):
        """Press a key on the slider of that name."""
        self.slider(name).focus()
        for _ in range(times):
            self.page.keyboard.press(key)

    def choose(self, menu, item):
        """Choose an item of a menu."""
        self.page.get_by_role("menuitem", name=menu, exact=True).first.click()
        self.page.locator(".lm-Menu").get_by_role("menuitem", name=item).first.click()

    def run_all_cells(self, until):
        """Choose Run > Run All Cells, again if nothing came: JupyterLab drops it until its kernel is connected."""
        for _ in range(6):
            self.choose("Run", re.compile("^Run All Cells"))
            with contextlib.suppress(PlaywrightTimeout):
                return until.wait_for(timeout=10_000)
        return until.wait_for()

    def sit_down(self, learner, guess):
        """Give the learner number, and lock a guess, one of the options of the workbook's prediction."""
        self.page.get_by_role("textbox", name="Your learner number").fill(learner)
        self.page.get_by_role("button", name="This is me").click()
        self.page.get_by_text(f"These are the answers of learner {learner}.").wait_for()
        self.predict(guess)
        self.page.locator(".tlib-pictures [role=img], .tlib-pictures img").first.wait_for()

    def predict(self, guess):
        """Lock a guess; again if need be, for the page is made anew for the learner until its last exercise stands."""
        for _ in range(6):
            self.page.get_by_role("radio", name=guess).check()
            self.page.get_by_role("button", name="Lock my prediction").click()
            with contextlib.suppress(PlaywrightTimeout):
                self.page.get_by_text("You predicted:").first.wait_for(timeout=10_000)
                break

    def restart_kernel(self):
        """Restart the kernel as a learner would, and wait until the page has run again."""
        runs = self.runs()
        self.choose("Kernel", re.compile(r"^Restart Kernel…"))
        self.page.get_by_role("button", name="Confirm Kernel Restart").click()
        self.wait_ready(runs + 1)

    def toggle_code(self):
        """Show or hide the code, as a tutor would."""
        self.choose("View", "Show or hide the code of this workbook")

    def off_the_machine(self):
        """Return every address asked for that is not this server's own."""
        own = re.compile(rf"(https?|wss?)://(127\.0\.0\.1|localhost):{self.server.port}/|data:|blob:|about:")
        return [url for url in self.requests if not own.match(url)]

    def findings(self, areas=(".tlib-page .jp-Cell", ".tlib-page .tlib-status")):
        """Return what the accessibility checker calls serious or critical in our part of the page."""
        from axe_playwright_python.sync_playwright import Axe

        found = Axe().run(self.page, context={"include": [[area] for area in areas]}).response["violations"]
        return [(rule["id"], rule["nodes"][0]["html"]) for rule in found if rule["impact"] in ("serious", "critical")]

    def screenshot(self, name):
        """Save what is in sight, for a person to look at."""
        SHOTS.mkdir(parents=True, exist_ok=True)
        self.page.screenshot(path=SHOTS / f"{name}.png")
