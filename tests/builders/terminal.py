"""A terminal to talk to a command through, as somebody at a keyboard does."""

import os
import pty
import select
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

EXCHANGE = Path(sys.executable).parent / "exchange"


def talk(
    words: Sequence[object],
    answers: Sequence[tuple[str, str]],
    environment: Mapping[str, str] | None = None,
    patience_s: float = 60,
) -> tuple[int, str]:
    """Run `exchange` at a terminal, and give its status and all that was seen.

    Parameters
    ----------
    answers : a piece of each question awaited, and what is then typed
    environment : variables set beside those there are
    """
    ours, theirs = pty.openpty()
    command = [str(EXCHANGE), *(str(word) for word in words)]
    process = subprocess.Popen(
        command,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "COLUMNS": "200", **(environment or {})},
    )
    os.close(theirs)
    seen, answered, left = "", 0, list(answers)
    ends = time.monotonic() + patience_s
    try:
        while time.monotonic() < ends:
            piece = _read(ours)
            if piece is None:
                break
            seen += piece
            if left and left[0][0] in seen[answered:]:
                answered = len(seen)
                os.write(ours, f"{left.pop(0)[1]}\n".encode())
        else:
            raise AssertionError(f"still waiting for {left[:1]} in: {seen}")
    finally:
        os.close(ours)
        if process.poll() is None:
            process.terminate()
        status = process.wait(10)
    assert not left, f"never asked: {left}; seen: {seen}"
    return status, seen


def _read(ours: int) -> str | None:
    """Give what has come, nothing yet, or None once the other end is closed."""
    ready, _, _ = select.select([ours], [], [], 0.2)
    if not ready:
        return ""
    try:
        piece = os.read(ours, 4096)
    except OSError:
        return None
    return piece.decode(errors="replace") or None
