"""The parts and the frame as they are written out, without a browser."""

import re
from html.parser import HTMLParser

import pytest
from flask import render_template

from exchange.web.frame.layout import Frame, PageLink
from tests.builders.parts_app import parts_app

EMPTY = {"input", "meta", "link", "br", "path", "rect", "line", "circle"}


class Outline(HTMLParser):
    """Reads a page and keeps its ids, what refers to them, and whether its tags match."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.referred: set[str] = set()
        self.unmatched: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        known = dict(attrs)
        self.ids += [known["id"]] if known.get("id") else []
        for name in ("aria-labelledby", "aria-describedby", "for"):
            self.referred |= set((known.get(name) or "").split())
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        pass

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.unmatched.append(tag)


@pytest.fixture(scope="module")
def app():
    return parts_app()


@pytest.fixture(scope="module")
def shown(app):
    return app.test_client().get("/parts/?organiser=1").text


def test_every_tag_is_closed(shown):
    outline = Outline(shown)

    assert outline.unmatched == []
    assert outline.open == []


def test_every_id_is_given_once_and_every_reference_finds_its_own(shown):
    outline = Outline(shown)

    assert sorted(outline.ids) == sorted(set(outline.ids))
    assert outline.referred - set(outline.ids) == set()


def test_every_form_that_posts_carries_the_token(shown):
    forms = re.findall(r'<form[^>]*method="post".*?</form>', shown, flags=re.DOTALL)

    assert len(forms) > 5
    assert all('name="csrf_token"' in form for form in forms)


def test_every_chart_is_named_described_and_told_as_a_table(shown):
    charts = re.findall(r'<svg[^>]*role="img".*?</svg>', shown, flags=re.DOTALL)

    assert len(charts) >= 10
    assert all("<title" in chart and "<desc" in chart for chart in charts)
    assert shown.count("<figure") <= shown.count("The same as a table") + 1


def test_a_page_stays_light(shown):
    # Every part at once, two strips among them: a real page is a fraction of it.
    assert len(shown.encode()) < 200_000


def test_the_page_one_is_on_is_marked_once(app):
    pages = (PageLink("To do", "/todo"), PageLink("Spares", "/spares", current=True))

    with app.test_request_context():
        text = render_template("layout.html", frame=Frame("The Lowmoor Circle", pages=pages))

    assert text.count('aria-current="page"') == 1
    assert re.search(r'href="/spares" aria-current="page"', text)


def test_somebody_not_signed_in_sees_no_pages_and_no_name(app):
    with app.test_request_context():
        text = render_template("layout.html", frame=Frame(help_url="/help"))

    assert "<nav" not in text
    assert "Signed in as" not in text
    assert "Sign out" not in text


def test_larger_text_is_said_to_the_style_sheet(app):
    with app.test_request_context():
        larger = render_template("layout.html", frame=Frame(larger_text=True))
        usual = render_template("layout.html", frame=Frame())

    assert 'data-text="larger"' in larger
    assert "data-text" not in usual


@pytest.mark.parametrize("kind", ["400", "403", "404", "410", "413", "429", "500"])
def test_what_went_wrong_is_said_with_a_way_on(app, kind):
    with app.test_request_context():
        text = render_template(f"errors/{kind}.html", frame=Frame(home_url="/todo"))

    assert len(re.findall("<h1>", text)) == 1
    assert 'href="/todo">Go to what needs doing' in text
    assert kind not in re.sub(r"<[^>]+>", "", text)
