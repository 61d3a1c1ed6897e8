"""What must survive in a kept circle, as the program of its revision read it."""

from collections import Counter
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from exchange.actions.kernel.actor import House
from exchange.actions.posting.calendars import calendar_of
from exchange.actions.posting.parcels import plan_of
from exchange.actions.sharing.share_out_proposal import choices_of, share_out_of
from exchange.domain.sharing.working import check
from exchange.records import (
    CALENDARS,
    DIARY,
    LETTERS,
    PARCELS,
    SHARE_OUTS,
    TASKS,
    calendar_addresses,
    links,
)
from tests.records.kept_circles.build import Made
from tests.records.kept_circles.raw import digest_of, tables_of

LINKS = ("sign in 0", "sign in 1", "sign in 2", "invitation", "new address")
CALENDAR_SECRETS = ("dispatch calendar", "organiser's calendar", "calendar")


def summary_of(made: Made, revision: str) -> dict[str, Any]:
    """Give rows and digest of each table, and what the program read in them."""
    house = made.here.house
    tables = tables_of(house.books.engine)
    now = made.here.clock()
    return {
        "revision": revision,
        "circle": made.circle_id,
        "organiser": made.organiser.member_id,
        "now": now.isoformat(),
        "secrets": made.secrets,
        "tables": {
            name: {"rows": len(rows), "digest": digest_of(rows)} for name, rows in tables.items()
        },
        "read": read_in(house, made.circle_id, made.secrets, now),
    }


def read_in(
    house: House, circle_id: int, secrets: Mapping[str, str], now: datetime
) -> dict[str, Any]:
    """Give what the program reads in plans, share-outs, tasks, letters, links, dates and calendars."""
    with house.books.reading() as tx:
        letters = LETTERS.all(tx, circle_id)
        return {
            "plans": {one.code: _plan(one) for one in PARCELS.all(tx, circle_id)},
            "share_outs": {one.name: _share_out(one) for one in SHARE_OUTS.all(tx, circle_id)},
            "tasks": [[one.kind, one.state, one.result] for one in TASKS.all(tx, circle_id)],
            "letters": dict(Counter(f"{one.kind} {one.state}" for one in letters)),
            "links": {name: _link(links.look_at(tx, secrets[name])) for name in LINKS},
            "diary": dict(Counter(one.kind for one in DIARY.all(tx, circle_id))),
            "calendars": [
                [one.kind, one.reminders, one.revoked_at is None]
                for one in CALENDARS.all(tx, circle_id)
            ],
            "events": {name: _events(house, secrets[name], now) for name in CALENDAR_SECRETS},
        }


def _plan(entry: Any) -> dict[str, Any] | None:
    plan = plan_of(entry)
    if plan is None:
        return None
    return {
        "state": entry.state.value,
        "day": plan.day.isoformat() if plan.day else None,
        "loss": plan.loss_chance,
        "packing": plan.packing,
        "days": [one.word.value for one in plan.strip],
        "reasons": [[one.about.value, one.label] for one in plan.reasons],
        "moved": plan.moved is not None,
    }


def _share_out(entry: Any) -> dict[str, Any]:
    found = share_out_of(entry)
    return {
        "state": entry.state,
        "allocations": [[one.spare_id, one.claim_id, one.count] for one in found.allocations],
        "answers": len(found.reasons),
        "choices": [one.reason for one in choices_of(entry)],
        "verdicts": [[one.rule, one.words] for one in check(entry.working)],
    }


def _link(found: Any) -> list[Any]:
    link, member = found
    return [link.purpose, member.id, link.used_at is not None]


def _events(house: House, secret: str, now: datetime) -> list[str]:
    with house.books.reading() as tx:
        address = calendar_addresses.with_token(tx, secret)
        assert address is not None
        served = calendar_of(tx, house, address, now)
    assert served is not None
    text = served.body.decode().replace("\r\n ", "")
    return sorted(line for line in text.splitlines() if line.startswith("UID:"))
