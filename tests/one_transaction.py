"""An act is one transaction: each opening for writing is counted against the act that asked for it."""

import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

import pytest

from exchange.records import Books, Tx

MORE_THAN_ONCE = {
    "run_one": "claims a task, does the work without a lock, and ends the task",
    "work_out_share_out": "reads, solves for minutes without a lock, then records",
    "share_out_now": "opens a share-out, works it out without a lock, and records",
    "replan": "reads, weighs without a lock, then records; once more when the facts moved",
    "replan_as_text": "does what replan does, and tells it",
    "pack_tonight": "re-plans: reads, weighs without a lock, then records with the word to pack",
    "give_from_reserve": "reads, solves without a lock, then records",
    "on_same_facts": "what the next three do",
    "take_left_over": "looks without a lock, then records; once more when somebody was quicker",
    "choose": "looks without a lock, then records; once more when somebody was quicker",
    "confirm_share_out": "looks without a lock, then records; once more when somebody was quicker",
    "explain": "reads, solves without a lock, then keeps the explanation",
    "fetch_forecasts": "asks services for minutes; keeps each answer as it comes",
    "send_waiting": "talks to a mail server between taking a letter and marking it",
}
"""Acts that open more than one transaction, each with the reason."""

_last = threading.local()


def outermost_act() -> FrameType | None:
    """Give the frame of the outermost public function of the actions, the demo's own left out."""
    found = None
    frame: FrameType | None = sys._getframe()
    while frame is not None:
        module = frame.f_globals.get("__name__", "")
        if module.startswith("exchange.actions.") and not module.startswith(
            "exchange.actions.demo"
        ):
            name = frame.f_code.co_name
            if not name.startswith(("_", "<")):
                found = frame
        frame = frame.f_back
    return found


def hold_to_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fail the test in which an act writes in more than one transaction, except those named above."""
    writing = Books.writing

    @contextmanager
    def counted(self: Books) -> Iterator[Tx]:
        act = outermost_act()
        if act is not None:
            # The frame itself is compared: an id() is given out again once its frame is gone.
            again = getattr(_last, "act", None) is act
            _last.act, _last.times = act, (_last.times + 1 if again else 1)
            name = act.f_code.co_name
            assert _last.times == 1 or name in MORE_THAN_ONCE, f"{name} writes more than once"
        with writing(self) as tx:
            yield tx

    monkeypatch.setattr(Books, "writing", counted)
