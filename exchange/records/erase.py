"""Erasing a person: their rows go or are emptied, and their names leave every text of the circle."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import JSON, Table, Text, delete, func, select, update

from exchange.records.tables import (
    Account,
    AwayTable,
    Base,
    CalendarTable,
    DailyFileTable,
    DiaryTable,
    ForecastTable,
    FrostNoteTable,
    HouseholdTable,
    LetterTable,
    LinkTable,
    MemberTable,
    ObservationTable,
    PlaceSkillTable,
    PlaceTable,
    ShelterTable,
    SpreadsheetTable,
)
from exchange.records.transaction import Tx

SOMEBODY, SOMEWHERE = "a former member", "a former place"
"""What stands in texts where the name of a person, or of a place, was."""
OF_MEMBER = (LetterTable, LinkTable, CalendarTable)
OF_HOUSEHOLD = (AwayTable, DiaryTable)
OF_PLACE = (
    ObservationTable,
    DailyFileTable,
    FrostNoteTable,
    PlaceSkillTable,
    ForecastTable,
    ShelterTable,
)
KEPT_AS_IT_IS = frozenset({"circle", "variety", "way", "route_point", "closure", "forecast"})
"""Tables that tell of no person; varieties may have a person's name, and keep it."""


@dataclass(frozen=True, slots=True)
class Traces:
    """The words by which somebody is known.

    Attributes
    ----------
    persons : names and addresses, for which SOMEBODY is put
    places : names of places and towns that nobody else of the circle has, for which SOMEWHERE is put
    """

    persons: frozenset[str]
    places: frozenset[str]


def erase(tx: Tx, circle_id: int, member_id: int, now: datetime) -> None:
    """Erase a member who has left; with the last of a household its address and places too.

    The rows of member, household and places stay, without a name, so that what was given and received still counts.
    Whoever was merged into the member was the same person, and is erased too.
    """
    session = tx._session
    for twin in session.scalars(
        select(MemberTable.id).where(
            MemberTable.merged_into == member_id, MemberTable.erased_at.is_(None)
        )
    ).all():
        erase(tx, circle_id, twin, now)
    member = session.get_one(MemberTable, member_id)
    household = session.get_one(HouseholdTable, member.household_id)
    whole = not _others_of(tx, member)
    places = (
        session.scalars(select(PlaceTable).where(PlaceTable.household_id == household.id)).all()
        if whole
        else ()
    )
    traces = _traces(tx, member, household if whole else None, places)
    for table in OF_MEMBER:
        session.execute(delete(table).where(table.member_id == member_id))
    _forget_account(tx, member, traces.persons)
    member.first_name, member.surname, member.email = "A former", f"member {member_id}", None
    member.telephone, member.telephone_allowed, member.helper = "", False, ""
    member.on_ring_list, member.erased_at = False, now
    if whole:
        _forget_household(tx, household, places)
    _forget_files(tx, circle_id)
    session.flush()
    _scrub(tx, circle_id, traces)
    session.expire_all()


def _others_of(tx: Tx, member: MemberTable) -> bool:
    """Say whether somebody else of the household is still known by name."""
    found = tx._session.scalar(
        select(func.count())
        .select_from(MemberTable)
        .where(
            MemberTable.household_id == member.household_id,
            MemberTable.id != member.id,
            MemberTable.erased_at.is_(None),
        )
    )
    return bool(found)


def _traces(
    tx: Tx,
    member: MemberTable,
    household: HouseholdTable | None,
    places: Iterable[PlaceTable],
) -> Traces:
    others = select(MemberTable).where(
        MemberTable.circle_id == member.circle_id, MemberTable.id != member.id
    )
    shared = {name for one in tx._session.scalars(others) for name in (one.first_name, one.surname)}
    names = {
        f"{member.first_name} {member.surname}".strip(),
        *({member.first_name, member.surname} - shared),
        member.email or "",
        member.telephone,
        *_addresses(tx, member),
    }
    if household is not None:
        names |= {household.address, household.safe_place, *household.address.splitlines()}
        if household.name not in shared:
            names.add(household.name)
    gone = list(places)
    elsewhere = {
        name
        for one in tx._session.scalars(
            select(PlaceTable).where(
                PlaceTable.circle_id == member.circle_id,
                PlaceTable.id.not_in([one.id for one in gone]),
            )
        )
        for name in (one.name, one.town, one.county)
    }
    there = {name for one in gone for name in (one.name, one.town, one.county)} - elsewhere
    return Traces(
        frozenset(one.strip() for one in names if len(one.strip()) > 1),
        frozenset(one.strip() for one in there if len(one.strip()) > 1),
    )


def _addresses(tx: Tx, member: MemberTable) -> set[str]:
    account = tx._session.get(Account, member.account_id) if member.account_id else None
    letters = select(LetterTable.to_address).where(LetterTable.member_id == member.id)
    sent = {one for one in tx._session.scalars(letters) if one}
    return sent | ({account.email, account.wanted_email or ""} if account else set())


def _forget_account(tx: Tx, member: MemberTable, known_as: frozenset[str]) -> None:
    """Drop the account with an address of the member's, unless it belongs to somebody in a circle."""
    member.account_id = None
    tx._session.flush()
    addresses = {one.lower() for one in known_as if "@" in one}
    used = select(MemberTable.account_id).where(MemberTable.account_id.is_not(None))
    tx._session.execute(
        delete(Account).where(func.lower(Account.email).in_(addresses), Account.id.not_in(used))
    )


def _forget_household(tx: Tx, household: HouseholdTable, places: Iterable[PlaceTable]) -> None:
    household.name = f"Former household {household.id}"
    household.address = household.safe_place = ""
    household.return_address_allowed = False
    household.posting_weekdays, household.parcels_a_day = list(range(7)), 3
    for of_household in OF_HOUSEHOLD:
        tx._session.execute(delete(of_household).where(of_household.household_id == household.id))
    for place in places:
        for of_place in OF_PLACE:
            tx._session.execute(delete(of_place).where(of_place.place_id == place.id))
        place.name, place.town, place.county, place.subdivision = "Former place", "", "", ""
        place.latitude = place.longitude = 0.0
        place.height_m = place.frost_rare_day = None
        place.lie, place.home_by, place.letter_box, place.rural_extra_day = "open", 18, False, False


def _forget_files(tx: Tx, circle_id: int) -> None:
    """Throw away the spreadsheets that were handed in, in which no name can be put out; what went in of them stays."""
    whole = SpreadsheetTable.circle_id == circle_id
    kept: dict[str, Any] = {"content": "", "choices": {}, "reading": None}
    tx._session.execute(update(SpreadsheetTable).where(whole).values(**kept))


def _scrub(tx: Tx, circle_id: int, traces: Traces) -> None:
    """Put other words where the person's stood, in every text and every stored plan of the circle."""
    patterns = [
        (_pattern(names), instead)
        for names, instead in ((traces.persons, SOMEBODY), (traces.places, SOMEWHERE))
        if names
    ]
    for table in Base.metadata.sorted_tables:
        if table.name in KEPT_AS_IT_IS or "circle_id" not in table.c:
            continue
        texts = [
            column.name
            for column in table.c
            if isinstance(column.type, Text | JSON) and not column.foreign_keys
        ]
        if texts:
            _scrub_table(tx, table, texts, circle_id, patterns)


def _scrub_table(
    tx: Tx,
    table: Table,
    texts: list[str],
    circle_id: int,
    patterns: list[tuple[re.Pattern[str], str]],
) -> None:
    columns = [table.c.id, *(table.c[name] for name in texts)]
    found = tx._session.execute(select(*columns).where(table.c.circle_id == circle_id)).mappings()
    for row in found.all():
        changed = {
            name: clean for name in texts if (clean := _cleaned(row[name], patterns)) != row[name]
        }
        if changed:
            tx._session.execute(update(table).where(table.c.id == row["id"]).values(**changed))


def _cleaned(value: Any, patterns: list[tuple[re.Pattern[str], str]]) -> Any:
    if isinstance(value, str):
        for pattern, instead in patterns:
            value = pattern.sub(instead, value)
        return value
    if isinstance(value, dict):
        return {key: _cleaned(one, patterns) for key, one in value.items()}
    if isinstance(value, list):
        return [_cleaned(one, patterns) for one in value]
    return value


def _pattern(names: frozenset[str]) -> re.Pattern[str]:
    """Find the names as whole words, the longest first; "May" after a day or "in" is the month."""
    either = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    return re.compile(rf"(?<!\d[ \u00a0])(?<!\bin )(?<!\bof )(?<!\w)(?:{either})(?!\w)")
