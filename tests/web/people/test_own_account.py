"""One's own sign-in: another address by a link sent there, and signing out everywhere."""

import re
from datetime import timedelta
from secrets import token_hex

import pytest

from exchange.actions.kernel.letters import letters_by_hand, send_waiting
from exchange.actions.kernel.links import Purpose
from exchange.records import LETTERS, MEMBERS, accounts
from tests.app_fixtures import PASSWORD, Visitor, link_for, path_of, ring, site_with_mail


@pytest.fixture
def wanted():
    return f"cuthbert.{token_hex(4)}@example.org"


def letters(here, circle, kind):
    with here.house.books.reading() as tx:
        return LETTERS.all(tx, circle.circle_id, member_id=circle["Cuthbert"].id, kind=kind)


def account(here, circle):
    with here.house.books.reading() as tx:
        return accounts.get(tx, circle["Cuthbert"].account_id)


def ask(here, circle, visitor, email):
    """Ask for an address, and give the paths of the links that were sent."""
    visitor.post("/my-sign-in/address", {"email": email})
    bodies = [one.body for one in letters(here, circle, "new_address")]
    return [path_of(re.search(r"http://\S+", body).group()) for body in bodies]


def test_a_pressed_link_makes_it_the_address(here, circle, cuthbert, wanted):
    old = circle["Cuthbert"].email
    (path,) = ask(here, circle, cuthbert, wanted)
    assert account(here, circle).email == old, "nothing changes before the press"
    assert f"sent to {wanted}" in cuthbert.get("/my-sign-in").text

    looked_at = Visitor(here).get(path)
    pressed = Visitor(here).post(path)

    assert wanted in looked_at.text
    assert pressed.status_code == 303
    assert (account(here, circle).email, account(here, circle).wanted_email) == (wanted, None)
    with here.house.books.reading() as tx:
        assert MEMBERS.get(tx, circle.circle_id, circle["Cuthbert"].id).email == wanted
    assert Visitor(here).post(path).status_code == 410, "a link works once"


def test_the_old_address_is_told_and_the_new_one_is_asked(here, circle, cuthbert, wanted):
    old = circle["Cuthbert"].email
    (path,) = ask(here, circle, cuthbert, wanted)
    Visitor(here).post(path)

    assert [one.to_address for one in letters(here, circle, "new_address")] == [wanted]
    assert [one.to_address for one in letters(here, circle, "address_changed")] == [old]


def test_every_session_and_every_way_in_by_the_old_address_ends(here, circle, cuthbert, wanted):
    """The old address no longer opens anything; whoever pressed while signed in stays signed in."""
    sign_in = path_of(link_for(here, circle["Cuthbert"], Purpose.SIGN_IN))
    Visitor(here).post("/new-password", {"email": circle["Cuthbert"].email})
    reset = path_of(
        re.search(r"http://\S+", letters(here, circle, "reset_instructions")[0].body).group()
    )
    elsewhere = Visitor(here, circle["Cuthbert"])
    (path,) = ask(here, circle, cuthbert, wanted)

    cuthbert.post(path)

    assert cuthbert.get("/todo").status_code == 200
    assert elsewhere.get("/todo").status_code == 303
    assert Visitor(here).get(sign_in).status_code == 410
    Visitor(here).post(reset, {"password": PASSWORD, "password_confirm": PASSWORD})
    signed_in = Visitor(here)
    signed_in.post("/sign-in", {"email": wanted, "password": PASSWORD})
    assert signed_in.get("/todo").status_code == 303, "the old mail set no password"


def test_a_later_wish_makes_the_earlier_link_useless(here, circle, cuthbert, wanted):
    (first,) = ask(here, circle, cuthbert, wanted)
    second = ask(here, circle, cuthbert, f"other.{wanted}")[-1]

    assert Visitor(here).post(first).status_code == 410
    Visitor(here).post(second)
    assert account(here, circle).email == f"other.{wanted}"


def test_the_link_is_read_only_where_it_was_sent(here, circle, cuthbert, wanted):
    """Shown on a page, it would prove nothing of the new address."""
    (path,) = ask(here, circle, cuthbert, wanted)

    page = cuthbert.get("/letters/mine").text

    assert path not in page
    assert "Is this your new address?" not in page


def test_a_link_runs_out_after_a_day(here, circle, cuthbert, wanted):
    (path,) = ask(here, circle, cuthbert, wanted)
    here.clock.at += timedelta(days=1, minutes=1)

    assert Visitor(here).post(path).status_code == 410


def test_somebody_elses_address_is_not_told_from_a_free_one(here, circle, cuthbert, wanted):
    taken = circle["Winnie"].email
    said = cuthbert.post("/my-sign-in/address", {"email": taken})
    page = cuthbert.get("/my-sign-in").text
    assert letters(here, circle, "new_address") == ()
    free = cuthbert.post("/my-sign-in/address", {"email": wanted})

    assert (said.status_code, said.location) == (free.status_code, free.location)
    assert f"sent to {taken}" in page
    assert page.replace(taken, wanted).count(wanted) == cuthbert.get("/my-sign-in").text.count(
        wanted
    )


def test_an_address_taken_meanwhile_is_refused_and_changes_nothing(here, circle, cuthbert, wanted):
    old = circle["Cuthbert"].email
    (path,) = ask(here, circle, cuthbert, wanted)
    with here.house.books.writing() as tx:
        MEMBERS.change(tx, circle.circle_id, circle["Winnie"].id, email=wanted)

    Visitor(here).post(path)

    assert account(here, circle).email == old


@pytest.mark.parametrize("wrong", ["no address", "a@b@c", ""])
def test_what_is_no_address_stands_beside_the_field(cuthbert, wrong):
    assert cuthbert.post("/my-sign-in/address", {"email": wrong}).status_code == 422


def test_the_address_there_is_is_refused(circle, cuthbert):
    answer = cuthbert.post("/my-sign-in/address", {"email": circle["Cuthbert"].email.upper()})

    assert answer.status_code == 422
    assert "already" in answer.text


def test_nobody_changes_the_sign_in_of_whom_they_act_for(here, circle, wanted):
    winnie = Visitor(here, circle["Winnie"])
    winnie.post(f"/act-for/{circle['Cuthbert'].id}")

    assert winnie.get("/my-sign-in").status_code == 409
    assert winnie.post("/my-sign-in/address", {"email": wanted}).status_code == 409
    assert winnie.post("/my-sign-in/sign-out-everywhere").status_code == 409
    assert "Your sign-in" not in winnie.get("/garden").text


def test_signing_out_everywhere_ends_every_session(here, circle, cuthbert):
    elsewhere = Visitor(here, circle["Cuthbert"])
    winnie = Visitor(here, circle["Winnie"])
    assert elsewhere.get("/todo").status_code == 200

    answer = cuthbert.post("/my-sign-in/sign-out-everywhere")

    assert answer.location == "/sign-in"
    assert "signed out on every telephone" in cuthbert.get("/sign-in").text
    assert [one.get("/todo").status_code for one in (cuthbert, elsewhere)] == [303, 303]
    assert winnie.get("/todo").status_code == 200
    assert Visitor(here, circle["Cuthbert"]).get("/todo").status_code == 200


def test_mail_goes_to_the_new_address_and_the_notice_to_the_old(tmp_path):
    with site_with_mail(tmp_path) as (here, box):
        circle = ring(here.house, members=("Winnie", "Cuthbert"))
        send_waiting(here.house, here.now())
        box.taken.clear()
        (path,) = ask(here, circle, Visitor(here, circle["Cuthbert"]), "new@example.org")
        send_waiting(here.house, here.now())
        Visitor(here).post(path)
        send_waiting(here.house, here.now())

    assert [one.rcpt_tos for one in box.taken] == [
        ["new@example.org"],
        [circle["Cuthbert"].email],
    ]


def test_without_mail_the_organiser_hands_the_link_over(here, circle, cuthbert, wanted):
    assert here.house.mail is None
    ask(here, circle, cuthbert, wanted)

    kinds = {one.letter.kind for one in letters_by_hand(circle.actor("Winnie"))}

    assert "new_address" in kinds
