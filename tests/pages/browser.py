"""A headless Chromium that tests look at a page with, over its pipe, by the standard library."""

from __future__ import annotations

import fcntl
import json
import os
import select
import shutil
import subprocess
import time
from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

CHROMIUM = next(
    (
        found
        for name in ("chromium", "chromium-browser", "google-chrome")
        if (found := shutil.which(name))
    ),
    None,
)
_FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--hide-scrollbars",
    "--remote-debugging-pipe",
)  # fmt: skip
_PATIENCE_S = 30.0


class Page:
    """One page, and all that the browser said of it."""

    def __init__(self, write: int, read: int) -> None:
        self._write, self._read = write, read
        self._rest, self._number, self._session = b"", 0, None
        self.events: list[dict] = []
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.ask("Target.attachToTarget", targetId=target, flatten=True)[
            "sessionId"
        ]
        for domain in ("Page", "Runtime", "Log", "Network", "Security"):
            self.ask(f"{domain}.enable")

    def ask(self, method: str, **params: object) -> dict:
        """Send a command and wait for its answer."""
        self._number += 1
        order = {"id": self._number, "method": method, "params": params}
        if self._session is not None:
            order["sessionId"] = self._session
        os.write(self._write, json.dumps(order).encode() + b"\0")
        until = time.monotonic() + _PATIENCE_S
        while True:
            answer = self._next(until)
            if answer.get("id") == self._number:
                assert "error" not in answer, answer
                return answer["result"]
            self.events.append(answer)

    def _next(self, until: float) -> dict:
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._read], [], [], max(0.0, until - time.monotonic()))
            assert ready, "the browser does not answer"
            self._rest += os.read(self._read, 1 << 20)
        line, _, self._rest = self._rest.partition(b"\0")
        return json.loads(line)

    def size(self, width: int, height: int, *, mobile: bool = False) -> None:
        """Set the size of the screen."""
        self.ask(
            "Emulation.setDeviceMetricsOverride",
            width=width, height=height, deviceScaleFactor=1, mobile=mobile,
        )  # fmt: skip
        if mobile:
            self.ask("Emulation.setTouchEmulationEnabled", enabled=True)

    def open(self, path: Path) -> None:
        """Open a file and wait until it is loaded."""
        self.ask("Page.navigate", url=path.as_uri())
        self.wait("document.readyState === 'complete' && location.protocol === 'file:'")

    def tell(self, script: str) -> object:
        """Run a script in the page and give what it comes to."""
        result = self.ask(
            "Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True
        )
        assert "exceptionDetails" not in result, result
        return result["result"].get("value")

    def wait(self, script: str) -> None:
        """Wait until a script comes to something true."""
        until = time.monotonic() + _PATIENCE_S
        while not self.tell(script):
            assert time.monotonic() < until, f"waited in vain for {script}"
            time.sleep(0.05)

    def press(self, *keys: str) -> None:
        """Press keys, one after the other."""
        codes = {"Tab": 9, "Enter": 13, "End": 35, "Home": 36, "ArrowUp": 38, "ArrowDown": 40}
        for key in keys:
            for kind in ("keyDown", "keyUp"):
                text = {"text": "\r"} if key == "Enter" and kind == "keyDown" else {}
                self.ask(
                    "Input.dispatchKeyEvent",
                    type=kind, key=key, code=key, windowsVirtualKeyCode=codes[key], **text,
                )  # fmt: skip

    def picture(self, *, whole: bool = False) -> bytes:
        """Give what is on the screen as PNG."""
        shot = self.ask("Page.captureScreenshot", format="png", captureBeyondViewport=whole)
        return b64decode(shot["data"])

    def paper(self, width_in: float, height_in: float) -> bytes:
        """Print as PDF."""
        done = self.ask(
            "Page.printToPDF",
            paperWidth=width_in, paperHeight=height_in, preferCSSPageSize=False,
            marginTop=0.55, marginBottom=0.55, marginLeft=0.47, marginRight=0.47,
        )  # fmt: skip
        return b64decode(done["data"])

    def named(self, *methods: str) -> list[dict]:
        """Give the events of some kinds."""
        return [event["params"] for event in self.events if event.get("method") in methods]


@contextmanager
def page_in(folder: Path) -> Iterator[Page]:
    """Start a browser with an empty profile, and end it."""
    assert CHROMIUM is not None
    to_read, to_write = os.pipe()
    from_read, from_write = os.pipe()

    def as_the_browser_wants_them() -> None:
        """Put the ends of the pipes where the browser looks for them."""
        far = [fcntl.fcntl(end, fcntl.F_DUPFD, 10) for end in (to_read, from_write)]
        os.dup2(far[0], 3)
        os.dup2(far[1], 4)

    started = subprocess.Popen(
        [CHROMIUM, *_FLAGS, f"--user-data-dir={folder / 'profile'}", "about:blank"],
        pass_fds=(3, 4),
        preexec_fn=as_the_browser_wants_them,  # noqa: PLW1509 - tests run in one thread
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(to_read)
    os.close(from_write)
    try:
        yield Page(to_write, from_read)
    finally:
        os.close(to_write)
        os.close(from_read)
        started.terminate()
        started.wait(30)
