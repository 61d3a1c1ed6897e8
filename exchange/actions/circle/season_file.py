"""The season in one file: spares, claims, share-out and parcels, as plain values."""

from collections import Counter
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.posting.plan_facts import lines_by_parcel
from exchange.actions.posting.replan import replan_then
from exchange.actions.sharing.claim_decision import told_of
from exchange.actions.sharing.share_out import remarks_on, work_out_open_one
from exchange.actions.sharing.share_out_proposal import nothing_yet
from exchange.domain.optimise.programme import Watch
from exchange.domain.permissions import Permission
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.parcel import Line
from exchange.domain.sharing.states import STANDING, ShareOutState
from exchange.domain.weather.forecast import WeatherSource
from exchange.records import (
    ALLOCATIONS,
    ANSWERS,
    CLAIMS,
    HOUSEHOLDS,
    PARCELS,
    SHARE_OUTS,
    SPARES,
    VARIETIES,
    WAYS,
    Tx,
)
from exchange.records.rows.growing import ClaimRow
from exchange.records.rows.posting import ParcelRow
from exchange.records.rows.sharing import ClaimAnswerRow
from exchange.words.circle import season_tables as words
from exchange.words.growing.together import together
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting import posting_days as posting_words

Row = dict[str, Any]


def season_file(actor: Actor, now: datetime) -> Row:
    """Give everything the last share-out and the plan say, as plain values for JSON."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return _season(tx, actor, now)


def _season(tx: Tx, actor: Actor, now: datetime) -> Row:
    confirmed = SHARE_OUTS.all(tx, actor.circle_id, state=ShareOutState.CONFIRMED)
    proposal = confirmed[-1].proposal if confirmed else None
    return {
        "as_of": today_in(circle_of(actor, tx), now).isoformat(),
        "spares": _spares(tx, actor.circle_id),
        "claims": _claims(tx, actor.circle_id),
        "allocations": [
            {"spare": one.spare_id, "claim": one.claim_id, "count": one.count}
            for one in ALLOCATIONS.all(tx, actor.circle_id, state=STANDING)
        ],
        "rules": [
            {name: rule[name] for name in ("name", "value", "bound", "status")}
            | {"pass": rule.get("pass", 1)}
            for rule in (proposal or {}).get("rules", [])
        ],
        "parcels": _parcels(tx, actor.circle_id),
    }


def plan_as_text(actor: Actor, now: datetime) -> str:
    """Give the plan as a table to be read on a terminal."""
    return _plan_table(season_file(actor, now))


def replan_as_text(actor: Actor, now: datetime) -> str:
    """Plan every open parcel again, and give the plan as it was kept, as that table."""
    actor.must(Permission.RUN_CIRCLE)
    return replan_then(actor, now, lambda tx, _replanned: _plan_table(_season(tx, actor, now)))


def work_out_as_text(actor: Actor, watch: Watch, now: datetime) -> str:
    """Work out the share-out that is open, and give what was kept as tables.

    Raises
    ------
    NotWorkedOutError, CannotBeWorkedOutError
        When none is open, or it cannot be worked out.
    """
    return work_out_open_one(actor, watch, now, lambda tx, _found: _share_out_text(tx, actor))


def _plan_table(season: Row) -> str:
    sources = {source.value: posting_words.weather_source(source) for source in WeatherSource}
    return words.plan_table(season, sources)


def _share_out_text(tx: Tx, actor: Actor) -> str:
    """Give the remarks on the share-out under review, its rules, and claims not met with the reason."""
    (share_out,) = SHARE_OUTS.all(tx, actor.circle_id, state=ShareOutState.WORKED_OUT)
    proposal = share_out.proposal or nothing_yet()
    names, varieties = _names(tx, actor.circle_id)
    spares, claims = SPARES.by_id(tx, actor.circle_id), CLAIMS.by_id(tx, actor.circle_id)
    season = {
        "rules": proposal["rules"],
        "spares": [
            {"id": key, "variety": varieties[one.variety_id], "household": names[one.household_id]}
            for key, one in spares.items()
        ],
        "claims": [
            {
                "id": one["claim_id"],
                "household": names[claims[one["claim_id"]].household_id],
                "variety": varieties[claims[one["claim_id"]].variety_id],
                "asked": claims[one["claim_id"]].asked,
                "given": one["given"],
                "met": one["standing"] == "met",
                "reason": told_of(
                    one["reason"],
                    one["sentence"],
                    names[claims[one["claim_id"]].household_id],
                ),
            }
            for one in proposal["answers"]
        ],
        "allocations": [
            {"spare": one["spare_id"], "claim": one["claim_id"], "count": one["count"]}
            for one in proposal["allocations"]
        ],
    }
    return "\n".join([*remarks_on(share_out), words.share_out_tables(season)])


def _spares(tx: Tx, circle_id: int) -> list[Row]:
    names, varieties = _names(tx, circle_id)
    return [
        {
            "id": one.id,
            "household": names[one.household_id],
            "variety": varieties[one.variety_id],
            "material": one.material.value,
            "raised": one.raised.value,
            "count": one.count,
            "ready_from": one.ready_from.isoformat(),
            "send_by": one.send_by.isoformat(),
        }
        for one in SPARES.all(tx, circle_id, withdrawn_at=None)
    ]


def _claims(tx: Tx, circle_id: int) -> list[Row]:
    names, varieties = _names(tx, circle_id)
    given = Counter[int]()
    for one in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        given[one.claim_id] += one.count
    answers = {one.claim_id: one for one in ANSWERS.all(tx, circle_id)}
    return [
        {
            "id": one.id,
            "household": names[one.household_id],
            "variety": varieties[one.variety_id],
            "asked": one.asked,
            "choice": one.choice,
            "alternatives": [varieties[other] for other in one.alternatives],
            "given": given[one.id],
            "met": given[one.id] >= one.asked,
            "reason": _plain(
                _reason(one, answers.get(one.id), given[one.id], names[one.household_id])
            ),
        }
        for one in CLAIMS.all(tx, circle_id, withdrawn_at=None)
    ]


def _reason(claim: ClaimRow, answer: ClaimAnswerRow | None, given: int, name: str) -> str:
    """Say why a claim came out as it did; what is not met always has a reason."""
    said = told_of(answer.reason, answer.reason.get("sentence", ""), name) if answer else ""
    if given == claim.asked or (said and answer is not None and answer.given == given):
        return said
    if answer is None:
        return "No share-out has decided it yet."
    return "What the share-out gave cannot be sent after all, or it was declined."


def _parcels(tx: Tx, circle_id: int) -> list[Row]:
    names, varieties = _names(tx, circle_id)
    ways = {one.id: one.name for one in WAYS.all(tx, circle_id)}
    lines: dict[int, list[Line]] = {}
    for parcel_id, line in lines_by_parcel(tx, circle_id):
        lines.setdefault(parcel_id, []).append(line)
    return [
        {
            "code": one.code,
            "sender": names[one.sender_household_id],
            "receiver": names[one.receiver_household_id],
            "way": ways.get(one.way_id or 0),
            "posting_day": _day(one.posting_day),
            "arrival_from": _day(one.arrival_from),
            "arrival_to": _day(one.arrival_to),
            "loss_chance": None if one.loss_chance is None else round(one.loss_chance, 6),
            "announced": one.is_announced,
            "held": one.held,
            "state": _state(one),
            "reasons": [_plain(reason) for reason in one.reasons],
            "lines": [_line(line, varieties) for line in together(lines.get(one.id, ()))],
            "weather_source": one.weather_source.value,
        }
        for one in PARCELS.all(tx, circle_id)
    ]


def _line(line: Line, varieties: Mapping[int, str]) -> Row:
    return {
        "variety": varieties[line.variety_id],
        "material": line.material.value,
        "raised": line.raised.value,
        "count": line.count,
    }


def _state(one: ParcelRow) -> str:
    """Give "planned", or why the parcel has no day: "not ready", "waits for weather", "no way"."""
    if one.posting_day is not None:
        return "planned"
    if one.answer is PostingAnswer.WAIT:
        return "waits for weather"
    # Until its first plan nothing is known to stand in a parcel's way.
    return one.answer or PostingAnswer.NOT_READY


def _names(tx: Tx, circle_id: int) -> tuple[dict[int, str], dict[int, str]]:
    households = {one.id: one.name for one in HOUSEHOLDS.all(tx, circle_id)}
    varieties = {one.id: one.name for one in VARIETIES.all(tx, circle_id)}
    return households, varieties


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _plain(sentence: str) -> str:
    """Give a sentence with plain spaces, so that a file can be searched."""
    return sentence.replace(NBSP, " ")
