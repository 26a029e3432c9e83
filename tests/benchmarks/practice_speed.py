"""How fast the pages answer: feedback on a practised line, and settling with 5,000 referrals, each beside an empty request.

    python -m tests.benchmarks.practice_speed [REFERRALS]

The pages are served over a socket by one process, with their cookies, signatures, checks and store; the empty request goes
the same way and does nothing. Medians of many requests are reported as ratios to the empty one, and for practice also beside
one rendered frame (1/60 s). Nothing is asserted here: the machine decides the figures.
"""

from __future__ import annotations

import gc
import http.client
import re
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlencode

import uvicorn
from starlette.applications import Starlette
from starlette.responses import Response
from starlette.routing import Route

from marker.web.app import create_app
from tests.web.crowd import store_with_referrals
from tests.web.scene import settings, store_with_class

FRAME = 1 / 60
TIMES = 200
LINES = ("P = IV", "46 = I × 230", "I = P/V", "I = 46/230 = 0.20 A", "P = I/V", "I = 0.2", "V = P/I so I = 46 ÷ 230", "E = mgh")


@contextmanager
def running(app: Starlette) -> Iterator[int]:
    """The port on which the application is served, in a thread."""

    async def nothing(_request: object) -> Response:
        return Response(status_code=204)

    app.router.routes.insert(0, Route("/empty", nothing))
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="error", access_log=False))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    yield int(server.servers[0].sockets[0].getsockname()[1])
    server.should_exit = True
    thread.join(10)


class Client:
    """One connection that stays open, with the session's cookie and form token."""

    def __init__(self, port: int, link: str) -> None:
        self._connection = http.client.HTTPConnection("127.0.0.1", port)
        self._cookie = ""
        self.get(f"/open/{link}")
        self.token = self.field("/you", "token")

    def get(self, path: str) -> str:
        return self._ask("GET", path, None, {})

    def post(self, path: str, **fields: str) -> str:
        body = urlencode({"token": self.token, **fields})
        return self._ask("POST", path, body, {"Content-Type": "application/x-www-form-urlencoded", "X-Part-Of-Page": "working"})

    def field(self, path: str, name: str) -> str:
        found = re.search(rf'name="{name}" value="([^"]*)"', self.get(path))
        assert found is not None, (path, name)
        return found.group(1)

    def _ask(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> str:
        self._connection.request(method, path, body, {**headers, "Cookie": self._cookie})
        answer = self._connection.getresponse()
        self._cookie = (answer.getheader("Set-Cookie") or self._cookie).split(";")[0]
        text = answer.read().decode()
        assert answer.status < 400, (method, path, answer.status)
        return text


def median(work: Callable[[], object], times: int = TIMES) -> float:
    """Median seconds of one call."""
    taken = []
    gc.collect()
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def practice(folder: Path) -> None:
    store, _ = store_with_class(folder / "practice.db")
    app = create_app(store, settings())
    with running(app) as port:
        client = Client(port, app.state.office.link)
        client.post("/practise/1/1/draw", numbers="paper")
        empty = median(lambda: client.get("/empty"))
        taken: list[float] = []
        for turn in range(25):
            client.post("/practise/1/1/draw", numbers="paper")
            for n, line in enumerate(LINES):
                # a value of its own each turn, so that no line is known from before
                typed = line.replace("0.20", f"0.20{turn}").replace("46", "46.0" + "0" * (turn % 3)) + f"   ({n}.{turn})" * (n == 7)
                taken.append(median(lambda typed=typed: client.post("/practise/1/1/line", line=typed), 1))  # type: ignore[misc]
        line = statistics.median(taken)
        worst = sorted(taken)[int(len(taken) * 0.95)]
        print(f"an empty request                               1.0   ({empty * 1000:.2f} ms here)")
        print(f"practice: a line's feedback                 {line / empty:6.1f}   {line / FRAME:.2f} of a frame")
        print(f"practice: the slowest in twenty             {worst / empty:6.1f}   {worst / FRAME:.2f} of a frame")
        drawn = median(lambda: client.post("/practise/1/2/draw", numbers="fresh"), 20)
        print(f"practice: a part with new numbers           {drawn / empty:6.1f}   {drawn / FRAME:.2f} of a frame")
    store.close()


def settling(folder: Path, referrals: int) -> None:
    for alike, name in ((4, f"{referrals:,} referrals, 4 alike"), (referrals, f"{referrals:,} referrals, all alike")):
        store, _ = store_with_referrals(folder / f"crowd{alike}.db", referrals, alike)
        app = create_app(store, settings())
        with running(app) as port:
            _report(name, Client(port, app.state.office.link), 10 if alike < referrals else 1)
        store.close()


def _report(name: str, client: Client, decisions: int) -> None:
    group = _first_group(client)
    pages: tuple[tuple[str, Callable[[], object], int], ...] = (
        ("the list, first page", lambda: client.get("/tests/1/settle"), 40),
        ("the list, page 20", lambda: client.get("/tests/1/settle?page=20"), 40),
        ("one group", lambda: client.get(group), 40),
        ("a decision", lambda: _decide(client), decisions),
        ("overview, first page", lambda: client.get("/tests/1"), 10),
    )
    empty = median(lambda: client.get("/empty"))
    for what, work, times in pages:
        taken = median(work, times)
        print(f"{name}: {what:<22} {taken / empty:6.1f}   {taken / FRAME:.2f} of a frame")


def _first_group(client: Client) -> str:
    found = re.search(r'href="(/tests/1/settle/\d+/\w{32})"', client.get("/tests/1/settle"))
    assert found is not None
    return found.group(1)


def _decide(client: Client) -> None:
    path = _first_group(client)
    client.post(path, seen=client.field(path, "seen"), only="0", pick="p0")


def main() -> None:
    referrals = int(sys.argv[1]) if len(sys.argv) > 1 else 5_000
    with tempfile.TemporaryDirectory() as folder:
        practice(Path(folder))
        settling(Path(folder), referrals)


if __name__ == "__main__":
    main()
