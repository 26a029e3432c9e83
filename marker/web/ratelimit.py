"""Limits on how often a person or an address may ask, kept in memory."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable

MOST_KEYS = 20_000


class Rate:
    """Lets `at_once` through, and then so many a minute, for each key. Safe to share among threads."""

    def __init__(self, a_minute: float, at_once: int, clock: Callable[[], float] = time.monotonic) -> None:
        self._refill = a_minute / 60
        self._most = float(at_once)
        self._clock = clock
        self._lock = threading.Lock()
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def wait(self, key: str) -> int:
        """0 when this one may pass; else the whole seconds to wait until the next may."""
        moment = self._clock()
        with self._lock:
            left, at = self._left.get(key, (self._most, moment))
            left = min(self._most, left + (moment - at) * self._refill)
            passes = left >= 1
            self._left[key] = (left - 1 if passes else left, moment)
            self._left.move_to_end(key)
            while len(self._left) > MOST_KEYS:
                self._left.popitem(last=False)
        return 0 if passes else max(1, int((1 - left) / self._refill + 0.999))
