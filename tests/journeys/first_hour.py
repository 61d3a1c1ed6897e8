"""The first hour: from `exchange init` to a confirmed share-out among ten, through the pages alone."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from secrets import token_urlsafe
from urllib.parse import urlsplit

from click.testing import CliRunner

from exchange.actions.kernel.services import open_house
from exchange.app import create_app
from exchange.cli import main
from exchange.settings import read_settings
from tests.app_fixtures import NOW
from tests.journeys import circle_of_ten as ten
from tests.journeys.counting import Counted
from tests.journeys.live import live

TODAY = {"EXCHANGE_TODAY": NOW.date().isoformat()}
HOME = "https://circle.example"


@contextmanager
def own_circle(folder: Path) -> Iterator[str]:
    """Set a circle up by the command, serve it, and give the organiser's link."""
    first, _space, _surname = ten.ORGANISER.partition(" ")
    words = ["--circle", "Our Circle", "--organiser", first, "--email", "ada@example.org"]
    told = ["--folder", str(folder), "init", *words, "--members", "10", "--address", HOME]
    made = CliRunner().invoke(main, told, env=TODAY)
    assert made.exit_code == 0, made.output
    link = next(line for line in made.output.splitlines() if "/join/" in line)
    # Served here without a certificate, so at an address that is not private.
    settings = read_settings({**TODAY, "EXCHANGE_PUBLIC_URL": "http://circle.example"}, folder)
    house = open_house(settings, token_urlsafe)
    try:
        with live(create_app(settings, house)) as address:
            yield address + urlsplit(link).path
    finally:
        house.books.close()


def to_a_confirmed_share_out(page: object, link: str) -> Counted:
    """Walk from the organiser's link to a confirmed share-out, and give what it took."""
    walk = Counted(page)
    _join(walk, link)
    _write_down_the_people(walk)
    _set_everybody_up(walk)
    _fill_the_box(walk, ten.spare_lines())
    _fill_the_box(walk, ten.claim_lines())
    _share_out(walk)
    return walk


def _join(walk: Counted, link: str) -> None:
    walk.open(link)
    walk.fill("Your surname", "Orchard")
    walk.fill("Town or postal district", "Ludlow, Shropshire")
    walk.button("Join")


def _write_down_the_people(walk: Counted) -> None:
    walk.link("Write down the people")
    walk.fill(
        "One a line: name, town, mail", "\n".join(f"{who}, {town}" for who, town in ten.PEOPLE)
    )
    walk.button("Invite them")


def _set_everybody_up(walk: Counted) -> None:
    """Say of each where parcels go and what shelter there is; each page leads on to the next."""
    walk.link("Set up")
    for number in range(len(ten.PEOPLE) + 1):
        walk.fill("Postal address", f"{number + 1} Garden Lane")
        walk.tick("frost-free greenhouse")
        walk.button("Keep it, then" if number < len(ten.PEOPLE) else "Keep it")


def _fill_the_box(walk: Counted, lines: str) -> None:
    """Put lines into the box, and say of names the circle does not know that they are new."""
    walk.link("Spares")
    walk.link("List several at once")
    walk.page.get_by_role("textbox").first.fill(lines)
    walk.button("See how it was understood")
    asked = walk.page.locator("select[name$=-variety]")
    for at in range(asked.count()):
        if not asked.nth(at).input_value():
            walk.choose(f"[name='{asked.nth(at).get_attribute('name')}']", "new:dahlia")
    walk.button("Keep these lines")


def _share_out(walk: Counted) -> None:
    walk.link("Share-out")
    walk.button("Share out today")
    walk.link("Confirm the share-out")
    walk.button("Confirm it")
