"""The pages served for real, in a process of their own, so that it can be killed and started again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from pathlib import Path
from types import TracebackType

_COMMAND = "import typer; from marker.web.commands import serve; typer.run(serve)"
ROOT = Path(__file__).resolve().parents[2]


class Served:
    """`marker serve` with these arguments on a free port. `base` is its address, `link` the teacher's."""

    def __init__(self, *arguments: str, wait: float = 120) -> None:
        self._arguments = arguments
        self._wait = wait
        self.said: list[str] = []
        self.base = self.link = ""

    def __enter__(self) -> Served:
        self.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.kill()

    def start(self, port: str = "0") -> None:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1", "COLUMNS": "300"}
        command = [sys.executable, "-c", _COMMAND, *self._arguments, "--port", port]
        self._process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=environment)
        self.said = []
        timer = threading.Timer(self._wait, self._process.kill)
        timer.start()
        assert self._process.stdout is not None
        for line in self._process.stdout:
            self.said.append(line.strip())
            if line.startswith("Pages: "):
                self.base = line.removeprefix("Pages: ").strip().rstrip("/")
            if line.startswith("For the teacher: "):
                self.link = line.removeprefix("For the teacher: ").strip()
                break
        timer.cancel()
        assert self.link, "\n".join(self.said)

    @property
    def port(self) -> str:
        return self.base.rsplit(":", 1)[1]

    def kill(self) -> None:
        """At once, without a chance to tidy up."""
        self._process.send_signal(signal.SIGKILL)
        self._process.wait(30)
        if self._process.stdout is not None:
            self._process.stdout.close()

    def again(self) -> None:
        """Started again at the same address."""
        self.start(self.port)
