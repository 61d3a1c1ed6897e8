"""Pack tonight, or wait: told at noon the day before, in the evening if it changed, on the day."""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.hours import just_struck_anywhere
from exchange.actions.people.household_members import members_of
from exchange.actions.posting.parcel_letters import both_ends, write_to
from exchange.actions.posting.replan import Replanned, replan_then
from exchange.domain.permissions import Permission
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.rounds import ROUND_HOURS, Notice, Round, telling_at
from exchange.domain.posting.way import Carriage
from exchange.records import LETTERS, PARCELS, PLACES, WAYS, Tx
from exchange.records.columns import from_plain
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel import letters as words
from exchange.words.posting import posting_days as posting_words


@dataclass(frozen=True, slots=True)
class PackTonight:
    """What the senders are told.

    Attributes
    ----------
    to_pack : codes of the parcels that can go tomorrow, or today
    to_wait : codes of those that were to go then, or earlier, and do not
    """

    to_pack: tuple[str, ...]
    to_wait: tuple[str, ...]


def is_pack_hour(actor: Actor, now: datetime) -> bool:
    """Say whether senders in any of the circle's zones are to be told now."""
    return just_struck_anywhere(actor, ROUND_HOURS, now)


def pack_tonight(actor: Actor, now: datetime) -> PackTonight:
    """Weigh all days again, and tell the senders of what goes next to pack or to wait.

    The letter to wait is written where the plan moves a parcel off its day; each letter goes once.
    """
    actor.must(Permission.RUN_CLOCK)
    return replan_then(actor, now, lambda tx, replanned: _tell(tx, actor, replanned, now))


def _tell(tx: Tx, actor: Actor, replanned: Replanned, now: datetime) -> PackTonight:
    to_pack, to_wait = [], []
    places = PLACES.by_id(tx, actor.circle_id)
    for parcel in PARCELS.all(tx, actor.circle_id):
        zone = ZoneInfo(places[parcel.sender_place_id].zone)
        telling = telling_at(now.astimezone(zone))
        if parcel.state is ParcelState.ANNOUNCED and parcel.posting_day == telling.day:
            _tell_to_pack(tx, actor, parcel, telling, now)
            to_pack.append(parcel.code)
        elif any(key == parcel.id and one.from_day <= telling.day for key, one in replanned.moved):
            to_wait.append(parcel.code)
    return PackTonight(tuple(to_pack), tuple(to_wait))


def _tell_to_pack(tx: Tx, actor: Actor, parcel: ParcelRow, telling: Notice, now: datetime) -> None:
    plan = from_plain(ParcelPlan, parcel.plan)
    about_day, how = f"pack_tonight:{parcel.id}:{telling.day}:", f"{plan.way_id}-{plan.packing}"
    if telling.round is Round.EVENING and _last_told(tx, actor, parcel, about_day) == how:
        return
    way = WAYS.by_id(tx, actor.circle_id).get(plan.way_id or 0)
    by_hand = way is not None and way.carriage == Carriage.BY_HAND
    why = (*parcel.reasons, posting_words.wait_rule(plan.warn_at_c, by_hand=by_hand))
    sender, _receiver = both_ends(parcel)
    write_to(
        tx, actor, sender, f"{about_day}{telling.round}:{how}",
        lambda reader, about, link: words.pack_tonight(reader, about, telling.day, why, link), now,
    )  # fmt: skip


def _last_told(tx: Tx, actor: Actor, parcel: ParcelRow, about_day: str) -> str:
    """Give the way and packing the sender was last told for a day, or nothing."""
    told = ""
    for member in members_of(tx, actor.circle_id, parcel.posted_by):
        for letter in LETTERS.all(tx, actor.circle_id, member_id=member.id, kind="pack_tonight"):
            if letter.key.startswith(about_day):
                told = letter.key.split(":")[4]
    return told
