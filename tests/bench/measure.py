"""Paired measurements: medians of ratios, because a shared machine drifts."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import time
from collections.abc import Callable
from typing import NamedTuple


class Ratio(NamedTuple):
    """The median ratio of two times with its least and greatest."""

    median: float
    least: float
    greatest: float


def process(first: list[str], second: list[str], runs: int) -> Ratio:
    """Processor time of one whole process over another, run in turn; the system's own account of each, not the clock."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def once(command: list[str]) -> float:
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)
        used = os.wait4(child.pid, 0)[2]
        child.returncode = 0
        return used.ru_utime + used.ru_stime

    once(first), once(second)
    return _ratio([once(first) / once(second) for _ in range(runs)])


def calls(first: Callable[[], object], second: Callable[[], object], runs: int = 9) -> Ratio:
    """Processor time of one call over another in this process, run in turn after a warm-up."""

    def once(call: Callable[[], object]) -> float:
        gc.collect()
        start = time.process_time()
        call()
        return time.process_time() - start

    once(first), once(second)
    return _ratio([once(first) / once(second) for _ in range(runs)])


def python() -> str:
    """The interpreter itself, never a shim."""
    return sys.executable


def _ratio(ratios: list[float]) -> Ratio:
    ratios.sort()
    return Ratio(ratios[len(ratios) // 2], ratios[0], ratios[-1])
