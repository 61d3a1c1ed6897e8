"""The first page: what is due, in order of urgency, with one button each."""

import re
from datetime import timedelta

import pytest

from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.growing.varieties import name_variety
from exchange.actions.posting.change_day import agree_all
from exchange.actions.posting.parcels import Arrival, say_arrived, say_posted
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.share_out import NewShareOut, open_share_out
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.posting.parcel import ParcelState
from exchange.records import MEMBERS, PARCELS, PLACES, VARIETIES
from exchange.words.home.first_steps import title
from tests.app_fixtures import NOW, Visitor, ring, site
from tests.builders.season import MONDAY, a_season, announce, morning, tell_weather
from tests.builders.season_kept import keep_season

TUESDAY = MONDAY + timedelta(days=1)


def agree_to_all(season):
    announce(season)
    for parcel in season.parcels():
        agree_all(season.organiser, parcel.id, NOW)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    return keep_season(tmp_path_factory.mktemp("kept"), agree_to_all)


@pytest.fixture
def here(request, tmp_path):
    """The pages of the season where there is one, else of an empty installation."""
    if "season" in request.fixturenames:
        yield request.getfixturevalue("both")[0]
        return
    with site(tmp_path) as made:
        yield made


def words(text):
    return " ".join(re.sub(r"<[^>]+>", " ", text).replace("\u00a0", " ").split())


def todo(here, season, name, now=NOW):
    """Give the titles of the tasks, and the whole page as it is read."""
    here.clock.at = now
    page = Visitor(here, season.ring[name]).get("/todo").text
    titles = [words(one) for one in re.findall(r'class="task">.*?<h3>(.*?)</h3>', page, re.DOTALL)]
    return titles, words(page)


def test_nothing_to_do_is_said_and_what_comes_stands_below(here, season):
    titles, page = todo(here, season, "Effie")
    code = season.parcel_to("Effie").code
    own_steps = [title(step) for step in ("shelter", "plants", "wish")]
    assert titles == ["Give your postal address", *own_steps]
    assert f"{code} should come from Winnie" in page.partition("Nothing to do yet")[2]


def test_a_new_member_is_asked_where_they_grow_and_nothing_else(here):
    lonely = ring(here.house, members=("Winnie",))
    with here.house.books.writing() as tx:
        for place in PLACES.all(tx, lonely.circle_id):
            PLACES.remove(tx, lonely.circle_id, place.id)
    page = Visitor(here, lonely["Winnie"]).get("/todo").text
    assert "One thing needs you: say where you grow." in words(page)


def test_what_goes_today_stands_first_with_the_hour(here, season):
    titles, page = todo(here, season, "Winnie")
    assert titles[:2] == [
        f"Post {one.code} to {name}"
        for one, name in sorted(
            ((season.parcel_to(name), name) for name in ("Cuthbert", "Effie")),
            key=lambda pair: pair[0].code,
        )
    ]
    assert re.search(r"By \d+(\.\d+)? pm", page)
    assert f"first: post {min(one.code for one in season.parcels())}" in page


def test_the_first_button_does_it_and_leads_back(here, season):
    winnie = Visitor(here, season.ring["Winnie"])
    page = winnie.get("/todo").text
    action, inside = re.search(
        r'<form action="(/parcels/\d+/posted)" method="post">(.*?)</form>', page, re.DOTALL
    ).groups()
    fields = dict(re.findall(r'name="(day|back)" value="([^"]*)"', inside))
    answer = winnie.post(action, fields)
    assert answer.headers["Location"] == "/todo"
    assert sum(one.posted_on == MONDAY for one in season.parcels()) == 1


def test_the_day_before_it_is_packed(here, season):
    with here.house.books.writing() as tx:
        for one in season.parcels():
            PARCELS.change(tx, season.circle_id, one.id, posting_day=TUESDAY)
    titles, page = todo(here, season, "Winnie")
    assert [title.split()[0] for title in titles[:2]] == ["Pack", "Pack"]
    assert "Tonight" in page


def test_the_day_after_it_probably_went_and_is_asked_about(here, season):
    titles, page = todo(here, season, "Winnie", morning(TUESDAY, 10))
    assert all(title.startswith("Did ") for title in titles[:2])
    assert "Since Mon 5 April" in page
    assert "probably posted" in page


def test_expected_and_overdue_are_asked_of_the_receiver(here, season):
    parcel = season.parcel_to("Effie")
    say_posted(season.organiser, parcel.id, MONDAY, NOW)
    parcel = season.parcel_to("Effie")
    titles, _page = todo(here, season, "Effie", morning(parcel.arrival_from, 10))
    assert titles[0] == f"{parcel.code} should come from Winnie"
    late = parcel.arrival_to + timedelta(days=1)
    titles, page = todo(here, season, "Effie", morning(late, 10))
    assert titles[0] == f"Did {parcel.code} come?"
    assert "It came, all well" in page


def test_care_of_what_came_is_due_on_its_day(here, season):
    parcel = season.parcel_to("Effie")
    came = morning(TUESDAY, 11)
    say_arrived(season.ring.actor("Effie"), parcel.id, Arrival(TUESDAY), came)
    titles, page = todo(here, season, "Effie", came)
    assert titles[0] == f"Care for what came in {parcel.code}"
    due, _later = page.split("Nothing to do yet")
    assert "Open at once" in due
    assert "Pot up, one to a 9 cm pot" in due
    assert "Harden off" not in due


def test_frost_tonight_names_the_pots(here, season):
    effie, place = season.ring.actor("Effie"), season.ring.place("Effie")
    set_shelter(effie, NewShelter(place.id, ShelterKind.COLD, 20), NOW)
    grow_too(effie, NewBatch(season.variety_id, 3, shelter=ShelterKind.COLD), NOW)
    tell_weather(season, NOW + timedelta(minutes=1), frost=(MONDAY,))
    titles, page = todo(here, season, "Effie", NOW + timedelta(hours=4))
    assert titles[0] == "Carry in what cannot stand tonight’s cold"
    assert "Chapel Lantern" in page
    assert "−" in page


def test_spares_wait_for_a_yes_as_one_line(here):
    made = a_season(here.house)
    announce(made)
    titles, page = todo(here, made, "Winnie")
    assert titles.count("Say whether 2 parcels can go") == 1
    assert "/parcels/answer" in Visitor(here, made.ring["Winnie"]).get("/todo").text
    assert "A quiet no is as welcome." in page


def test_closing_claims_and_the_share_out_itself(here):
    circle = ring(here.house)
    organiser = circle.actor("Winnie")
    closes = MONDAY + timedelta(days=5)
    open_share_out(organiser, NewShareOut("Spring", closes, "4711"), NOW)

    def page(name, now):
        here.clock.at = now
        return words(Visitor(here, circle[name]).get("/todo").text)

    assert "Look over your claims" in page("Effie", NOW)
    assert "Work the share-out out" not in page("Winnie", NOW)
    later = morning(closes, 10)
    assert "Work the share-out out" in page("Winnie", later)
    assert "Work the share-out out" not in page("Effie", later)
    here.clock.at = NOW - timedelta(days=10)
    assert "Claims close: Spring" in page("Effie", NOW - timedelta(days=10))


def test_the_organiser_is_shown_whom_to_act_for_and_may_do_the_rest(here):
    made = a_season(
        here.house, members=("Winnie", "Cuthbert", "Effie", "Odo"), claimants=("Effie", "Odo")
    )
    announce(made)
    parcel = made.parcel_to("Odo")
    late = morning(parcel.arrival_to + timedelta(days=1), 10)
    titles, page = todo(here, made, "Winnie", late)
    assert f"Ask Odo about {parcel.code}" in titles
    assert "Act for Odo" in page

    winnie = Visitor(here, made.ring["Winnie"])
    winnie.post(f"/act-for/{made.ring['Odo'].id}")
    page = words(winnie.get("/todo").text)
    assert f"Did {parcel.code} come?" in page
    assert "Ask Odo" not in page


def test_letters_to_hand_over_are_the_organisers(here, season):
    with here.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, season.ring["Effie"].id, email=None)
    replan(season.organiser, NOW)
    titles, _page = todo(here, season, "Winnie")
    assert any(title.startswith("Hand over ") for title in titles)
    titles, _page = todo(here, season, "Effie")
    assert not any(title.startswith("Hand over ") for title in titles)


def test_a_long_wait_is_put_before_the_organiser(here, season):
    with here.house.books.writing() as tx:
        one = season.parcel_to("Effie")
        waiting = MONDAY - timedelta(days=20)
        PARCELS.change(
            tx, season.circle_id, one.id,
            held=True, state=ParcelState.PLANNED, posting_day=None, announced_day=None,
            waiting_since=waiting,
        )  # fmt: skip
    titles, page = todo(here, season, "Winnie")
    assert f"Decide about {one.code}" in titles
    assert "20 days without a good day" in page
    assert f"{one.code} for Effie." in page


def test_room_is_drawn_where_shelters_are_named(here, season):
    assert "Room for pots" not in todo(here, season, "Effie")[1]
    effie = season.ring.actor("Effie")
    set_shelter(effie, NewShelter(season.ring.place("Effie").id, ShelterKind.COLD, 20), NOW)
    page = todo(here, season, "Effie")[1]
    assert "Room for pots" in page
    assert "1 of 20" in page


def test_no_surname_stands_on_the_page(here, season):
    page = Visitor(here, season.ring["Effie"]).get("/todo").text
    assert "Pellow" not in page.split("<main")[1].split("</main")[0]


@pytest.mark.parametrize("kind", [Species.TUBEROUS_BEGONIA, Species.FOLIAGE_BEGONIA])
def test_holders_are_asked_once_what_kind_a_begonia_is_and_answer_by_one_press(here, kind):
    circle = ring(here.house)
    known = name_variety(circle.actor("Winnie"), "Copper Pan", Species.BEGONIA, NOW).id
    for who in ("Winnie", "Effie"):
        grow_too(circle.actor(who), NewBatch(known, 2), NOW)
    here.clock.at = NOW
    asked = "Say what kind of begonia ‘Copper Pan’ is"
    effie = Visitor(here, circle["Effie"])

    before = words(effie.get("/todo").text)
    assert "From a tuber" in before
    assert "For its leaves, no tuber" in before
    assert asked not in words(Visitor(here, circle["Cuthbert"]).get("/todo").text)
    answered = effie.post(f"/varieties/{known}/begonia", {"kind": kind.value, "back": "/todo"})

    assert (answered.status_code, answered.location) == (303, "/todo")
    assert asked in before
    for who in ("Winnie", "Effie"):
        assert asked not in words(Visitor(here, circle[who]).get("/todo").text)
    with here.house.books.reading() as tx:
        assert VARIETIES.get(tx, circle.circle_id, known).species is kind
