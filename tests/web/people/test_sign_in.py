"""Signing in: by password, by mail, by a new password; and what is refused."""

import re
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime

from exchange.actions.kernel.letters import Sending, send_waiting
from exchange.actions.kernel.links import Purpose
from exchange.records import LETTERS, accounts
from exchange.records.links import hash_of
from exchange.records.tables import Account, LinkTable
from tests.app_fixtures import (
    PASSWORD,
    Visitor,
    link_for,
    path_of,
    ring,
    site,
    site_with_mail,
    token_of,
)


def set_password(here, circle, password=PASSWORD):
    visitor = Visitor(here, circle["Cuthbert"])
    answer = visitor.post(
        "/my-password", {"new_password": password, "new_password_confirm": password}
    )
    assert answer.status_code == 302, answer.text
    return visitor


def email_of(circle):
    return circle["Cuthbert"].email


def sign_in(here, password, email, **extra):
    visitor = Visitor(here)
    answer = visitor.post("/sign-in", {"email": email, "password": password, **extra})
    return visitor, answer


def letters_of(here, circle, kind):
    with here.house.books.reading() as tx:
        return LETTERS.all(tx, circle.circle_id, kind=kind)


def test_the_password_lets_in_and_a_wrong_one_does_not(here, circle):
    set_password(here, circle)

    visitor, right = sign_in(here, PASSWORD, email_of(circle))
    _stranger, wrong = sign_in(here, "four cold window sills", email_of(circle))

    assert right.status_code == 302
    assert visitor.get("/todo").status_code == 200
    assert wrong.status_code == 200
    assert "alert" in wrong.text


def test_capitals_in_the_address_make_no_difference(here, circle):
    set_password(here, circle)

    visitor, _answer = sign_in(here, PASSWORD, email_of(circle).upper())

    assert visitor.get("/todo").status_code == 200


def test_a_password_is_kept_only_as_an_argon2_hash(here, circle):
    set_password(here, circle)

    with here.house.books.reading() as tx:
        account = tx._session.get_one(Account, circle["Cuthbert"].account_id)
        assert (account.password or "").startswith("$argon2id$")


def test_an_unknown_address_and_a_wrong_password_read_alike(here, circle):
    set_password(here, circle)

    _one, wrong = sign_in(here, "four cold window sills", email_of(circle))
    _two, unknown = sign_in(here, PASSWORD, "nobody@example.org")

    def without_address(page):
        plain = re.sub(r'value="[^"]*"', "", page.text)
        return re.sub(r'nonce="[^"]*"', "", plain)

    assert without_address(wrong) == without_address(unknown)


def test_staying_signed_in_lasts_ninety_days(here, circle):
    set_password(here, circle)

    _visitor, answer = sign_in(here, PASSWORD, email_of(circle), remember="y")
    (kept,) = [one for one in answer.headers.getlist("Set-Cookie") if "remember_token" in one]

    assert "HttpOnly" in kept
    assert "SameSite=Lax" in kept
    ends = parsedate_to_datetime(re.search(r"Expires=([^;]+)", kept).group(1))
    assert abs(ends - datetime.now(UTC) - timedelta(days=90)) < timedelta(minutes=1)


def test_a_link_by_mail_signs_in_once(here, circle):
    Visitor(here).post("/sign-in-by-mail", {"email": email_of(circle)})
    (letter,) = letters_of(here, circle, "sign_in")
    path = path_of(re.search(r"http://\S+", letter.body).group())
    visitor = Visitor(here)

    looked_at = [visitor.get(path).status_code for _look in range(2)]
    pressed = visitor.post(path)
    again = Visitor(here).post(path)

    assert looked_at == [200, 200]
    assert pressed.status_code == 303
    assert visitor.get("/todo").status_code == 200
    assert again.status_code == 410


def test_a_link_by_mail_runs_out_after_half_an_hour(here, circle):
    path = link_for(here, circle["Cuthbert"], Purpose.SIGN_IN)

    here.clock.at += timedelta(minutes=31)

    assert Visitor(here).get(path).status_code == 410


def test_asking_for_an_unknown_address_says_the_same_and_writes_nothing(here, circle):
    known = Visitor(here).post("/sign-in-by-mail", {"email": email_of(circle)})
    unknown = Visitor(here).post("/sign-in-by-mail", {"email": "nobody@example.org"})

    assert (known.status_code, known.headers["Location"]) == (
        unknown.status_code,
        unknown.headers["Location"],
    )
    assert len(letters_of(here, circle, "sign_in")) == 1


def test_only_the_hash_of_a_link_is_kept(here, circle):
    token = token_of(link_for(here, circle["Cuthbert"], Purpose.SIGN_IN))

    with here.house.books.reading() as tx:
        kept = [one.sha256 for one in tx._session.query(LinkTable).all()]

    assert hash_of(token) in kept
    assert token not in kept


def test_a_link_for_one_thing_opens_no_other(here, circle):
    token = token_of(link_for(here, circle["Cuthbert"], Purpose.SIGN_IN))

    assert Visitor(here).get(f"/join/{token}").status_code == 410


def test_a_new_password_is_mailed_and_signs_everything_else_out(here, circle):
    elsewhere = Visitor(here, circle["Cuthbert"])
    assert elsewhere.get("/todo").status_code == 200

    asked = Visitor(here).client.environ_base | {"HTTP_HOST": "evil.example"}
    visitor = Visitor(here)
    visitor.client.environ_base = asked
    visitor.post("/new-password", {"email": email_of(circle)})
    (letter,) = letters_of(here, circle, "reset_instructions")
    link = re.search(r"http://\S+", letter.body).group()
    changed = Visitor(here).post(
        path_of(link), {"password": PASSWORD, "password_confirm": PASSWORD}
    )

    assert link.startswith("http://circle.example/new-password/")
    assert changed.status_code == 302
    assert elsewhere.get("/todo").status_code == 303
    assert sign_in(here, PASSWORD, email_of(circle))[1].status_code == 302
    assert len(letters_of(here, circle, "reset_notice")) == 1
    used = Visitor(here).post(path_of(link), {"password": "x" * 12, "password_confirm": "x" * 12})
    assert sign_in(here, "x" * 12, email_of(circle))[1].status_code == 200, used.status


def test_a_short_password_is_refused(here, circle):
    visitor = Visitor(here, circle["Cuthbert"])

    answer = visitor.post(
        "/my-password", {"new_password": "dahlia", "new_password_confirm": "dahlia"}
    )

    assert answer.status_code == 200
    with here.house.books.reading() as tx:
        assert accounts.with_email(tx, email_of(circle)) is not None
        assert tx._session.get_one(Account, circle["Cuthbert"].account_id).password is None


def test_tries_at_a_password_are_limited(tmp_path):
    with site(tmp_path, config={"RATELIMIT_ENABLED": True}) as here:
        answers = [
            sign_in(here, "guess after guess", "nobody@example.org")[1].status_code
            for _try in range(11)
        ]

    assert answers[:10] == [200] * 10
    assert answers[10] == 429


def test_signing_out_takes_a_post(here, circle):
    visitor = Visitor(here, circle["Cuthbert"])

    asked = visitor.get("/sign-out").status_code
    still_in = visitor.get("/todo").status_code
    visitor.post("/sign-out")

    assert asked == 405
    assert still_in == 200
    assert visitor.get("/todo").status_code == 303


def test_nobody_is_led_elsewhere_after_signing_in(here, circle):
    set_password(here, circle)
    visitor = Visitor(here)

    answer = visitor.post(
        "/sign-in?next=https://evil.example/", {"email": email_of(circle), "password": PASSWORD}
    )

    assert "evil.example" not in answer.headers.get("Location", "")


def test_a_mail_server_gets_the_link_for_a_new_password(tmp_path):
    with site_with_mail(tmp_path) as (here, box):
        circle = ring(here.house, members=("Winnie", "Cuthbert"))
        send_waiting(here.house, here.now())
        box.taken.clear()
        Visitor(here).post("/new-password", {"email": email_of(circle)})
        first, second = (send_waiting(here.house, here.now()) for _round in range(2))

    assert first == Sending(sent=1)
    assert second == Sending()
    (envelope,) = box.taken
    assert envelope.rcpt_tos == [email_of(circle)]
    assert b"http://circle.example/new-password/" in envelope.content
