"""A share-out as its organiser sees it: opened, worked out, reviewed, confirmed once, told to all."""

from datetime import timedelta

import pytest

from exchange.actions.circle.season_file import replan_as_text, season_file, work_out_as_text
from exchange.actions.growing.varieties import Marks, mark_variety, name_variety
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.closing_day import ClosingDayRefusedError
from exchange.actions.sharing.share_out import (
    ChangedSinceError,
    NewShareOut,
    NotWorkedOutError,
    confirm_share_out,
    open_share_out,
    work_out_share_out,
)
from exchange.actions.sharing.share_out_state import AlreadyConfirmedError, AlreadyOpenError
from exchange.actions.sharing.spare_withdrawal import release_held
from exchange.actions.sharing.spares import list_spare
from exchange.domain.growing.variety import Keeps, Species
from exchange.domain.optimise.programme import Stopped, never_stop
from exchange.domain.sharing.draw import shown_at_opening
from exchange.domain.sharing.states import ShareOutState
from exchange.records import ALLOCATIONS, DEEDS, LETTERS, SHARE_OUTS, SPARES
from tests.app_fixtures import NOW, a_house, ring
from tests.builders.season import a_season, a_spare


@pytest.fixture
def season(tmp_path):
    with a_house(tmp_path) as house:
        yield a_season(house, asked=2, count=3, confirmed=False)


def work_out(season):
    return work_out_share_out(season.organiser, season.share_out_id, never_stop, NOW)


def entry(season):
    with season.house.books.reading() as tx:
        return SHARE_OUTS.get(tx, season.circle_id, season.share_out_id)


def rows(season, repository, **where):
    with season.house.books.reading() as tx:
        return repository.all(tx, season.circle_id, **where)


def test_while_it_is_open_only_the_hash_of_the_draw_number_can_be_compared(season):
    assert entry(season).draw_hash == shown_at_opening("4711")
    assert "4711" not in entry(season).draw_hash


def test_a_second_share_out_waits_for_the_first(season):
    with pytest.raises(AlreadyOpenError):
        open_share_out(season.organiser, NewShareOut("More", NOW.date(), "1"), NOW)


def test_a_closing_day_that_has_passed_is_refused(tmp_path):
    with a_house(tmp_path) as house:
        season = a_season(house)
        late = NewShareOut("Late", NOW.date() - timedelta(days=1), "1")
        with pytest.raises(ClosingDayRefusedError) as refused:
            open_share_out(season.organiser, late, NOW)

    assert refused.value.field == "closes_on"


def test_only_the_organiser_runs_it(season):
    member = season.ring.actor("Effie")
    for act in (
        lambda: open_share_out(member, NewShareOut("Mine", NOW.date(), "1"), NOW),
        lambda: work_out_share_out(member, season.share_out_id, never_stop, NOW),
        lambda: confirm_share_out(member, season.share_out_id, NOW),
        lambda: work_out_as_text(member, never_stop, NOW),
        lambda: replan_as_text(member, NOW),
        lambda: season_file(member, NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_working_out_tells_nobody_and_gives_nothing(season):
    found = work_out(season)

    assert sum(one.count for one in found.allocations) == 3
    assert entry(season).state == ShareOutState.WORKED_OUT
    assert rows(season, ALLOCATIONS) == rows(season, LETTERS, kind="share_out") == ()
    assert [one.allocated for one in rows(season, SPARES)] == [0]


def test_it_can_be_worked_out_again_and_gives_the_same(season):
    first, again = work_out(season), work_out(season)

    assert first.allocations == again.allocations
    assert first.working == again.working


def test_asked_to_stop_it_keeps_nothing(season):
    with pytest.raises(Stopped):
        work_out_share_out(season.organiser, season.share_out_id, lambda *_told: True, NOW)

    assert entry(season).state == ShareOutState.OPEN
    assert entry(season).proposal is None


def test_nothing_is_confirmed_before_it_is_worked_out(season):
    with pytest.raises(NotWorkedOutError):
        confirm_share_out(season.organiser, season.share_out_id, NOW)


def test_a_claim_that_came_after_must_be_looked_at_first(season):
    work_out(season)
    claim(season.ring.actor("Effie"), NewClaim(season.variety_id, 1), NOW)

    with pytest.raises(ChangedSinceError):
        confirm_share_out(season.organiser, season.share_out_id, NOW)

    assert rows(season, ALLOCATIONS) == ()
    work_out(season)
    assert confirm_share_out(season.organiser, season.share_out_id, NOW).plants == 3


def test_confirming_gives_tells_and_is_written_down(season):
    work_out(season)
    confirmed = confirm_share_out(season.organiser, season.share_out_id, NOW)

    assert (confirmed.plants, confirmed.met) == (3, 1)
    assert [one.allocated for one in rows(season, SPARES)] == [3]
    letters = rows(season, LETTERS, kind="share_out")
    assert {one.member_id for one in letters} == {
        season.ring[name].id for name in ("Winnie", "Cuthbert", "Effie")
    }
    assert "confirmed a share-out" in {one.act for one in rows(season, DEEDS)}


def test_a_confirmed_one_never_changes(season):
    work_out(season)
    confirm_share_out(season.organiser, season.share_out_id, NOW)
    before = (entry(season), rows(season, ALLOCATIONS))

    with pytest.raises(AlreadyConfirmedError):
        confirm_share_out(season.organiser, season.share_out_id, NOW)
    with pytest.raises(AlreadyConfirmedError):
        work_out(season)

    assert (entry(season), rows(season, ALLOCATIONS)) == before


def test_who_got_less_than_they_asked_for_is_told_why_and_of_nobody_else(season):
    work_out(season)
    confirm_share_out(season.organiser, season.share_out_id, NOW)
    season_now = season_file(season.organiser, NOW)
    unmet = [one for one in season_now["claims"] if not one["met"]]

    assert [(one["asked"], one["given"]) for one in unmet] == [(2, 1)]
    assert unmet[0]["reason"].endswith(".")
    other = "Effie" if unmet[0]["household"] != "Effie" else "Cuthbert"
    assert other not in unmet[0]["reason"]
    short = next(
        one
        for one in rows(season, LETTERS, kind="share_out")
        if "Not this time, and why:" in one.body
    )
    assert unmet[0]["reason"] in short.body.replace("\u00a0", " ")
    assert "Winnie" not in short.body.partition("Not this time")[2]


def test_the_tables_show_what_is_looked_at(season):
    text = work_out_as_text(season.organiser, never_stop, NOW)

    assert "must not be lost" in text
    assert "Chapel Lantern" in text
    assert "1 / 2" in text


def test_a_spare_that_is_still_held_is_not_given_where_another_was_let_go(tmp_path):
    with a_house(tmp_path) as house:
        circle = ring(house, members=("Winnie", "Cuthbert", "Effie"), now=NOW - timedelta(days=30))
        organiser = circle.actor("Winnie")
        variety = name_variety(organiser, "Pewter Lantern", Species.DAHLIA, NOW)
        marks = Marks(Keeps.FAIRLY, False, "", 3, True, "")
        mark_variety(organiser, variety.id, marks, NOW)
        let_go = list_spare(organiser, a_spare(variety.id, 1), NOW)
        held = list_spare(circle.actor("Cuthbert"), a_spare(variety.id, 1), NOW)
        release_held(organiser, let_go, NOW)
        claim(circle.actor("Effie"), NewClaim(variety.id, 2), NOW)
        share_out_id = open_share_out(organiser, NewShareOut("Spring", NOW.date(), "4711"), NOW)

        found = work_out_share_out(organiser, share_out_id, never_stop, NOW)

    given = {one.spare_id: one.count for one in found.allocations}
    assert given == {let_go: 1}
    assert held not in given
