"""The questions about days that somebody of a household chose, as chores of the first page."""

from collections.abc import Iterable, Iterator
from datetime import date

from exchange.actions.home.chores import Chore, ChoreKind
from exchange.actions.kernel.actor import Actor
from exchange.actions.posting.diary import first_names
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import ParcelState
from exchange.records import MEMBERS, PARCELS, Tx
from exchange.records.columns import from_plain
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting.posting_days import asked as asked_words


def questions_on_days(
    tx: Tx, actor: Actor, parcels: Iterable[ParcelRow], today: date
) -> Iterator[Chore]:
    """Give the days somebody of the household chose against which something speaks now."""
    names = first_names(tx, actor.circle_id)
    household = actor.own_household()
    own = {one.id for one in MEMBERS.all(tx, actor.circle_id, household_id=household)}
    asked = {
        one.id
        for one in parcels
        if one.question is not None and not one.day_kept and one.day_chosen_by in own
    }
    for one in PARCELS.all(tx, actor.circle_id, id=asked):
        plan = from_plain(ParcelPlan, one.plan)
        if one.state is ParcelState.ANNOUNCED and plan.asked is not None:
            yield Chore(
                ChoreKind.DAY_ASKED,
                one.posting_day or today,
                one.code,
                one.id,
                names.get(one.receiver_household_id, ""),
                text=asked_words(plan.asked),
            )
