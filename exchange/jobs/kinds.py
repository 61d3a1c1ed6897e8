"""The work of each kind of task: one row per kind."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from exchange.actions.circle.spreadsheet_bring import bring_in_long
from exchange.actions.circle.spreadsheet_kept import BRING, READ
from exchange.actions.circle.spreadsheets import read_spreadsheet
from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.tasks import Watch, Work
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.explanation import KIND, KIND_AHEAD, explain
from exchange.actions.sharing.reserve import RESERVE, give_from_reserve
from exchange.actions.sharing.scenarios import try_other_terms
from exchange.actions.sharing.share_out import work_out_share_out
from exchange.actions.weather.forecasts import fetch_forecasts


def _share_out(actor: Actor, share_out_id: int, watch: Watch, now: datetime) -> None:
    work_out_share_out(actor, share_out_id, watch.solver, now)


def _share_out_previews(
    actor: Actor, share_out_id: int, watch: Watch, now: datetime
) -> Mapping[str, Any]:
    return try_other_terms(actor, share_out_id, watch.go_on, now)


def _claim_why(actor: Actor, claim_id: int, watch: Watch, _now: datetime) -> None:
    explain(actor, claim_id, watch.solver, ahead=False)


def _claim_why_ahead(actor: Actor, claim_id: int, watch: Watch, _now: datetime) -> None:
    explain(actor, claim_id, watch.solver, ahead=True)


def _reserve(actor: Actor, variety_id: int, watch: Watch, now: datetime) -> Mapping[str, Any]:
    watch.go_on("looking who is next", 0.1)
    return {"given": give_from_reserve(actor, variety_id, watch.solver, now)}


def _plan(actor: Actor, _subject: int, watch: Watch, now: datetime) -> Mapping[str, Any]:
    watch.go_on("weighing the days", 0.1)
    return {"moved": len(replan(actor, now).moved)}


def _forecasts(actor: Actor, _subject: int, watch: Watch, now: datetime) -> Mapping[str, Any]:
    watch.go_on("asking the forecast service", 0.1)
    fetched = fetch_forecasts(actor, now, again=True)
    watch.go_on("weighing the days", 0.6)
    return {"places": fetched.places, "moved": len(replan(actor, now).moved)}


def _read_spreadsheet(actor: Actor, file_id: int, watch: Watch, now: datetime) -> None:
    read_spreadsheet(actor, file_id, watch, now)


def _bring_in(actor: Actor, file_id: int, watch: Watch, now: datetime) -> Mapping[str, Any]:
    return {"rows": bring_in_long(actor, file_id, watch, now)}


KINDS: dict[str, Work] = {
    "share_out": _share_out,
    "share_out_previews": _share_out_previews,
    KIND: _claim_why,
    KIND_AHEAD: _claim_why_ahead,
    RESERVE: _reserve,
    "plan": _plan,
    "forecasts": _forecasts,
    READ: _read_spreadsheet,
    BRING: _bring_in,
}
