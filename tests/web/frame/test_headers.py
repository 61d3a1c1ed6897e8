"""What every answer forbids the browser to do, and what it tells machines."""

import re

import pytest

from tests.app_fixtures import Visitor, ring, site

PATHS = ("/sign-in", "/todo", "/garden", "/circle", "/nothing-here", "/robots.txt", "/healthz")


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    with site(tmp_path_factory.mktemp("headers"), public_url="https://circle.example") as made:
        yield made


@pytest.fixture(scope="module")
def circle(here):
    return ring(here.house)


@pytest.mark.parametrize("path", PATHS)
def test_the_policy_lets_in_nothing_from_elsewhere(here, circle, path):
    answer = Visitor(here, circle["Winnie"]).get(path)
    policy = dict(
        part.strip().split(" ", 1) for part in answer.headers["Content-Security-Policy"].split(";")
    )

    assert policy["default-src"] == "'self'"
    assert re.fullmatch(r"'self' 'nonce-[\w-]{20,}'", policy["script-src"])
    assert policy["style-src"] == "'self'"
    for closed in ("object-src", "base-uri", "frame-ancestors"):
        assert policy[closed] == "'none'"
    assert policy["form-action"] == "'self'"


def test_the_nonce_of_the_policy_is_the_scripts_and_never_the_same(here, circle):
    visitor = Visitor(here, circle["Winnie"])
    seen = set()
    for _look in range(3):
        answer = visitor.get("/todo")
        (nonce,) = re.findall(r"'nonce-([\w-]+)'", answer.headers["Content-Security-Policy"])
        scripts = re.findall(r"<script[^>]*>", answer.text)
        assert scripts
        assert all(f'nonce="{nonce}"' in script for script in scripts)
        seen.add(nonce)

    assert len(seen) == 3


@pytest.mark.parametrize("path", PATHS)
def test_no_page_needs_a_style_of_its_own(here, circle, path):
    page = Visitor(here, circle["Winnie"]).get(path).text

    assert "style=" not in page
    assert "<style" not in page
    assert re.search(r"\son\w+=", page) is None


def test_the_other_headers_stand_on_every_answer(here, circle):
    answer = Visitor(here, circle["Winnie"]).get("/todo")

    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Referrer-Policy"] == "same-origin"
    assert answer.headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "no-store" in answer.headers["Cache-Control"]
    assert "noindex" in answer.headers["X-Robots-Tag"]


def test_https_is_insisted_on_only_where_it_is_spoken(here):
    visitor = Visitor(here)

    plain = visitor.get("/sign-in")
    private = visitor.get("/sign-in", base_url="https://circle.example")

    assert "Strict-Transport-Security" not in plain.headers
    assert private.headers["Strict-Transport-Security"] == "max-age=31536000"


def test_cookies_are_kept_from_scripts_and_plain_lines(here):
    answer = Visitor(here).get("/sign-in", base_url="https://circle.example")
    (cookie,) = answer.headers.getlist("Set-Cookie")

    assert "HttpOnly" in cookie
    assert "Secure" in cookie
    assert "SameSite=Lax" in cookie


def test_a_web_server_in_front_is_believed_only_when_set(tmp_path):
    forwarded = {"X-Forwarded-Proto": "https", "X-Forwarded-For": "192.0.2.7"}
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    with site(tmp_path / "a") as alone, site(tmp_path / "b", proxy_hops=1) as behind:
        believed = Visitor(behind).get("/sign-in", headers=forwarded)
        not_believed = Visitor(alone).get("/sign-in", headers=forwarded)

    assert "Strict-Transport-Security" in believed.headers
    assert "Strict-Transport-Security" not in not_believed.headers


def test_robots_are_told_to_stay_away(here):
    answer = Visitor(here).get("/robots.txt")

    assert (answer.status_code, answer.mimetype) == (200, "text/plain")
    assert answer.text.startswith("User-agent: *\n")
    assert answer.text.endswith("Disallow: /\n")


def test_health_is_told_to_anyone(here):
    assert Visitor(here).get("/healthz").text == "ok\n"


def test_larger_text_is_remembered_and_leads_back(here, circle):
    visitor = Visitor(here, circle["Winnie"])

    answer = visitor.post(
        "/larger-text", {"larger": "yes"}, headers={"Referer": "http://localhost/garden"}
    )
    page = visitor.get("/garden").text
    visitor.post("/larger-text", {"larger": ""})

    assert answer.headers["Location"] == "/garden"
    assert 'data-text="larger"' in page
    assert 'data-text="larger"' not in visitor.get("/garden").text


@pytest.mark.parametrize("address", ["https://evil.example/x", "//evil.example/x", "http:x"])
def test_larger_text_leads_nowhere_else(here, address):
    answer = Visitor(here).post("/larger-text", {"larger": "yes"}, headers={"Referer": address})

    assert answer.headers["Location"] == "/"


@pytest.mark.parametrize(
    ("path", "status"), [("/nothing-here", 404), ("/join/not-a-link", 410), ("/answer/x/y", 404)]
)
def test_what_goes_wrong_has_a_page_with_a_way_on(here, path, status):
    answer = Visitor(here).get(path)

    assert answer.status_code == status
    assert "<h1>" in answer.text
    assert "Traceback" not in answer.text


def test_a_busy_database_is_told_as_such(here, circle, monkeypatch):
    from exchange.records import DatabaseBusyError
    from exchange.web.people import own_details

    def busy(*_given, **_more):
        raise DatabaseBusyError

    monkeypatch.setattr(own_details, "set_posting", busy)
    answer = Visitor(here, circle["Winnie"]).post(
        "/garden/posting", {"posting_weekdays": "1", "parcels_a_day": "2"}
    )

    assert answer.status_code == 503
    assert "Somebody else is writing" in answer.text
