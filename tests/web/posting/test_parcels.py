"""The pages of parcels: what is said, who sees what, what a press does."""

import re
from datetime import timedelta

import pytest
from flask_security import hash_password

from exchange.actions.people.households import AddressTerms, ContactTerms, set_address, set_contact
from exchange.records import MEMBERS, PARCELS
from exchange.records.tables import Account
from tests.app_fixtures import NOW, PASSWORD, Visitor, site
from tests.builders.season import MONDAY, a_season, again, tell_weather
from tests.builders.season_kept import keep_season

ADDRESS, SAFE, TELEPHONE = "9 Hidden Lane", "behind the water butt", "01632 960999"
TUESDAY, SUNDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=6)


def tell_effies(season):
    effie = season.ring["Effie"]
    actor = season.ring.actor("Effie")
    set_address(actor, AddressTerms(f"{ADDRESS}\nInverness", SAFE), NOW)
    terms = ContactTerms("Effie", effie.surname, effie.email or "", TELEPHONE, True)
    set_contact(actor, terms, NOW)


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    members = ("Winnie", "Cuthbert", "Effie", "Odo")
    return keep_season(tmp_path_factory.mktemp("kept"), tell_effies, members=members)


@pytest.fixture
def here(both):
    return both[0]


@pytest.fixture
def season(both):
    """Winnie, who sends, is no organiser: Cuthbert is, so that she sees what a sender sees."""
    here, made = both
    with here.house.books.writing() as tx:
        MEMBERS.change(tx, made.circle_id, made.ring["Winnie"].id, organiser=False)
        MEMBERS.change(tx, made.circle_id, made.ring["Cuthbert"].id, organiser=True)
    return made


@pytest.fixture
def parcel(season):
    return season.parcel_to("Effie")


@pytest.fixture
def sender(here, season):
    return Visitor(here, season.ring["Winnie"])


@pytest.fixture
def receiver(here, season):
    return Visitor(here, season.ring["Effie"])


@pytest.fixture
def organiser(here, season):
    return Visitor(here, season.ring["Cuthbert"])


def words(answer):
    """Give the page as it is read, spaces as one."""
    return " ".join(re.sub(r"<[^>]+>", " ", answer.text).replace("\u00a0", " ").split())


def test_the_lead_is_the_answer_for_each_end(parcel, sender, receiver):
    to_sender = words(sender.get(f"/parcels/{parcel.id}"))
    assert f"{parcel.code} to Effie" in to_sender
    assert "Post it today by " in to_sender
    to_receiver = words(receiver.get(f"/parcels/{parcel.id}"))
    assert f"{parcel.code} from Winnie" in to_receiver
    assert "It is to be posted on Mon 5 April. It should come " in to_receiver


def test_only_the_sender_and_the_organiser_read_where_it_goes(parcel, sender, receiver, organiser):
    for visitor in (sender, organiser):
        page = visitor.get(f"/parcels/{parcel.id}").text
        assert all(word in page for word in (ADDRESS, SAFE, TELEPHONE))
    assert SAFE not in receiver.get(f"/parcels/{parcel.id}").text


def test_no_page_of_a_parcel_tells_the_others_surname_to_the_receiver(parcel, receiver):
    for path in (f"/parcels/{parcel.id}", "/parcels", f"/papers/{parcel.id}/care"):
        main = receiver.get(path).text.split("<main")[1].split("</main")[0]
        assert "Pellow" not in main


def a_week_later(visitor):
    """Let the visitor's last proof of who they are be a week old."""
    with visitor.client.session_transaction() as session:
        session["fs_paa"] -= 7 * 24 * 3600


def set_password(here, member):
    with here.app.app_context(), here.house.books.writing() as tx:
        tx._session.get_one(Account, member.account_id).password = hash_password(PASSWORD)


def test_who_has_not_lately_shown_who_they_are_is_asked_again(here, season, parcel, sender):
    set_password(here, season.ring["Winnie"])
    a_week_later(sender)
    page = sender.get(f"/parcels/{parcel.id}").text
    assert not any(word in page for word in (ADDRESS, SAFE, TELEPHONE))
    assert "Show the address" in page
    assert ADDRESS not in sender.get(f"/papers/{parcel.id}/slip").text
    for pdf in (f"/papers/{parcel.id}/slip.pdf", "/papers/all.pdf"):
        answer = sender.get(pdf)
        assert answer.status_code == 303
        assert answer.headers["Location"].startswith("/password-again")
    assert sender.get(f"/papers/{parcel.id}/care.pdf").status_code == 200


def test_the_password_given_once_more_shows_the_address_and_leads_back(
    here, season, parcel, sender
):
    set_password(here, season.ring["Winnie"])
    a_week_later(sender)
    page = sender.get(f"/parcels/{parcel.id}").text
    again = re.search(r'href="(/password-again[^"]+)"', page).group(1).replace("&amp;", "&")
    assert sender.post(again, {"password": "not the password"}).status_code == 200
    assert ADDRESS not in sender.get(f"/parcels/{parcel.id}").text
    answer = sender.post(again, {"password": PASSWORD})
    assert answer.headers["Location"].endswith(f"/parcels/{parcel.id}")
    assert ADDRESS in sender.get(f"/parcels/{parcel.id}").text


def test_who_has_no_means_of_showing_it_again_is_not_kept_out(parcel, sender):
    """Without a password, in a house without mail, signing in by a link had to do."""
    a_week_later(sender)
    assert ADDRESS in sender.get(f"/parcels/{parcel.id}").text


def test_a_third_member_sees_nothing_of_it(here, season, parcel):
    with here.house.books.writing() as tx:
        MEMBERS.change(tx, season.circle_id, season.ring["Cuthbert"].id, organiser=False)
    third = Visitor(here, season.ring["Cuthbert"])
    for path in ("", "/posted", "/came", f"/move?day={TUESDAY}"):
        assert third.get(f"/parcels/{parcel.id}{path}").status_code == 403
    assert parcel.code not in third.get("/parcels").text


def test_each_open_day_of_the_strip_is_a_link_that_is_answered(parcel, sender):
    page = sender.get(f"/parcels/{parcel.id}").text
    links = re.findall(rf'href="(/parcels/{parcel.id}\?day=([\d-]+))#why-day"', page)
    assert 3 <= len(links) < 21
    for url, day in links[:3]:
        answer = sender.get(url)
        assert 'id="why-day"' in answer.text, day
    assert "takes nothing in" in words(sender.get(f"/parcels/{parcel.id}?day={SUNDAY}"))


@pytest.mark.parametrize("day", ["2027-13-45", "x", "1999-01-01", ""])
def test_a_day_outside_the_strip_is_not_answered(parcel, sender, day):
    answer = sender.get(f"/parcels/{parcel.id}?day={day}")
    assert answer.status_code == 200
    assert 'id="why-day"' not in answer.text


def test_the_receiver_is_not_told_which_days_are_the_senders_own(here, season, parcel, receiver):
    from exchange.actions.people.households import HouseholdPosting, set_posting

    set_posting(season.ring.actor("Winnie"), HouseholdPosting(frozenset({0}), 3), NOW)
    season.plan(NOW + timedelta(minutes=5))
    own = words(Visitor(here, season.ring["Winnie"]).get(f"/parcels/{parcel.id}"))
    other = words(receiver.get(f"/parcels/{parcel.id}?day={TUESDAY}"))
    assert "not your posting days" in own
    assert "posting days" not in other
    assert "Tue 6 April does not suit." in other


def test_posted_in_one_press_with_undo(season, parcel, sender):
    answer = sender.post(f"/parcels/{parcel.id}/posted", {"day": MONDAY.isoformat()})
    assert answer.status_code == 303
    assert again(season, parcel).posted_on == MONDAY
    page = sender.get(f"/parcels/{parcel.id}").text
    undo = re.search(rf'action="(/parcels/{parcel.id}/not-posted)"', page)
    sender.post(undo.group(1))
    assert again(season, parcel).posted_on is None


def test_a_press_leads_back_to_where_it_came_from_and_nowhere_else(parcel, sender):
    day = MONDAY.isoformat()
    for wanted, found in (("/todo", "/todo"), ("//elsewhere.example", f"/parcels/{parcel.id}")):
        answer = sender.post(f"/parcels/{parcel.id}/posted", {"day": day, "back": wanted})
        assert answer.headers["Location"] == found


def test_a_wrong_day_comes_back_with_what_to_write(parcel, sender):
    answer = sender.post(f"/parcels/{parcel.id}/posted", {"day": "2027-06-01"})
    assert answer.status_code == 422
    assert "That day is still to come." in words(answer)
    assert "1 thing" in answer.text.lower() or "one thing to put right" in answer.text.lower()


def test_came_all_well_is_one_press(season, parcel, receiver):
    receiver.post(f"/parcels/{parcel.id}/came", {"day": MONDAY.isoformat(), "condition": "well"})
    assert again(season, parcel).arrived_on == MONDAY
    page = words(receiver.get(f"/parcels/{parcel.id}"))
    assert "It came on Mon 5 April: all well." in page
    receiver.post(f"/parcels/{parcel.id}/not-came")
    assert again(season, parcel).arrived_on is None


def test_more_alive_than_sent_is_put_right_beside_its_field(season, parcel, receiver):
    page = receiver.get(f"/parcels/{parcel.id}/came").text
    name = re.search(r'name="(alive-\d+)"', page).group(1)
    data = {"day": MONDAY.isoformat(), "condition": "limp", name: "7"}
    answer = receiver.post(f"/parcels/{parcel.id}/came", data)
    assert answer.status_code == 422
    assert "from 0 to 1" in words(answer)
    assert again(season, parcel).arrived_on is None


def test_lost_and_taken_back(season, parcel, receiver):
    receiver.post(f"/parcels/{parcel.id}/lost")
    assert again(season, parcel).condition == "lost"
    assert "It never came." in words(receiver.get(f"/parcels/{parcel.id}"))
    receiver.post(f"/parcels/{parcel.id}/not-came")
    assert again(season, parcel).condition == ""


def test_the_strip_says_that_its_lows_are_not_the_forecasts_own(season, parcel, sender):
    drawn = "Lows are likely ones, the farther ahead the nearer to usual nights."
    assert words(sender.get(f"/parcels/{parcel.id}")).count(drawn) == 1


def test_moving_shows_what_changes_before_anything_does(season, parcel, sender):
    plan = again(season, parcel).plan
    day = next(one["day"] for one in plan["strip"] if one["word"] == "good")
    page = words(sender.get(f"/parcels/{parcel.id}/move?day={day}"))
    assert "Should come" in page
    assert "Nothing is changed until you press." in page
    assert again(season, parcel).posting_day == MONDAY
    answer = sender.post(f"/parcels/{parcel.id}/move", {"day": day})
    assert answer.status_code == 303
    assert again(season, parcel).posting_day.isoformat() == day


def test_a_day_it_cannot_go_is_refused_with_why(season, parcel, sender):
    sunday = MONDAY + timedelta(days=6)
    answer = sender.post(f"/parcels/{parcel.id}/move", {"day": sunday.isoformat()})
    assert answer.status_code == 422
    assert "It cannot go that day." in words(answer)
    assert "Post anyway, I know" not in words(answer)
    assert again(season, parcel).posting_day == MONDAY


def test_a_day_refused_for_its_loss_alone_leads_to_the_press_that_takes_it(season, parcel, sender):
    tell_weather(season, NOW, frost=(MONDAY + timedelta(days=1), MONDAY + timedelta(days=2)))
    season.plan(NOW + timedelta(minutes=5))
    known = again(season, parcel)
    frosty = next(one["day"] for one in known.plan["strip"] if one["word"].startswith("frost"))
    url = f"/parcels/{parcel.id}/anyway?day={frosty}"
    for answer in (
        sender.get(f"/parcels/{parcel.id}/move?day={frosty}"),
        sender.post(f"/parcels/{parcel.id}/move", {"day": frosty}),
    ):
        assert "“Post anyway, I know” has it go all the same" in words(answer)
        assert f'href="{url}"' in answer.text
    assert again(season, parcel).posting_day == known.posting_day
    assert "Post anyway, I know" in words(sender.get(url))


def test_yes_and_the_quiet_no(season, parcel, sender):
    page = sender.get(f"/parcels/{parcel.id}").text
    assert "Can these go?" in page
    sender.post(f"/parcels/{parcel.id}/agree")
    assert "Can these go?" not in sender.get(f"/parcels/{parcel.id}").text

    other = season.parcel_to("Cuthbert")
    page = sender.get(f"/parcels/{other.id}").text
    no = re.search(rf'action="(/parcels/{other.id}/cannot/\d+)"', page).group(1)
    assert sender.post(no).headers["Location"] == "/parcels"
    wrong = re.sub(r"\d+$", "999", no)
    assert sender.post(wrong).status_code == 404


def test_answering_for_all_at_once(season, sender):
    page = sender.get("/parcels/answer").text
    fields = dict.fromkeys(re.findall(r'name="(count-\d+)"', page), "1")
    assert len(fields) == 2
    assert sender.post("/parcels/answer", dict.fromkeys(fields, "9")).status_code == 422
    assert sender.post("/parcels/answer", fields).headers["Location"] == "/todo"
    assert "Nothing waits for your answer" in sender.get("/parcels/answer").text


def test_planning_again_is_a_task_of_the_organisers(parcel, sender, organiser):
    assert sender.post("/parcels/plan").status_code == 403
    for kind in ("plan", "forecasts"):
        answer = organiser.post(f"/parcels/{kind}")
        assert answer.headers["Location"].startswith("/tasks/")
    assert "The days are being weighed" in organiser.get("/parcels").text


def test_the_organiser_sees_all_parcels_and_the_weather_behind(season, sender, organiser):
    page = words(organiser.get("/parcels"))
    assert all(one.code in page for one in season.parcels())
    assert "Forecasts for 4 of 4 places" in page
    assert "Plan again" not in words(sender.get("/parcels"))


def test_without_a_forecast_the_page_says_so(tmp_path):
    with site(tmp_path) as bare:
        made = a_season(bare.house)
        made.plan()
        found = made.parcel_to("Effie")
        visitor = Visitor(bare, made.ring["Winnie"])
        page = words(visitor.get(f"/parcels/{found.id}"))
        assert found.weather_source.value == "climate"
        assert "from the climate of past years, not from a forecast" in page
        assert "There is no forecast" in words(visitor.get("/parcels"))


def test_the_credit_links_to_the_service_that_asks_for_it(here, season, parcel, sender):
    from exchange.web.weather.credit import credit

    assert str(credit("", "Weather data by Open-Meteo.com (CC BY 4.0).")) == (
        '<a href="https://open-meteo.com/" rel="noreferrer">Weather data by Open-Meteo.com</a>'
        " (CC BY 4.0)."
    )
    assert "<b>" not in str(credit("", "<b>bold</b>"))


def test_the_organiser_decides_about_a_waiting_parcel(tmp_path, monkeypatch):
    with site(tmp_path) as bare:
        monkeypatch.setattr("exchange.actions.weather.outlooks.climate_near", lambda *_where: None)
        made = a_season(bare.house)
        made.plan()
        found = made.parcel_to("Effie")
        assert found.held
        winnie = Visitor(bare, made.ring["Winnie"])
        assert "Let it go by hand" in winnie.get(f"/parcels/{found.id}").text
        winnie.post(f"/parcels/{found.id}/decide/by_hand")
        with bare.house.books.reading() as tx:
            assert PARCELS.get(tx, made.circle_id, found.id).chosen_way_id is not None
        effie = Visitor(bare, made.ring["Effie"])
        assert effie.post(f"/parcels/{found.id}/decide/later").status_code == 403
