"""The demo's sign-in links work at whatever time of day it is begun."""

from datetime import UTC, datetime, timedelta

import pytest

from exchange.actions.circle.set_up import upgrade_records
from exchange.actions.demo.build import Demo
from exchange.actions.demo.data import demo_data
from exchange.actions.demo.people import settle
from exchange.actions.demo.sign_in_links import demo_links
from exchange.actions.kernel.actor import now_of
from exchange.actions.kernel.links import LinkGoneError, Purpose, open_link
from tests.app_fixtures import NOW, site


def opened(house, link, machine_now):
    """Open a link as the pages do, by the circle's now."""
    token = link.rsplit("/", 1)[1]
    return open_link(house, token, Purpose.SIGN_IN, lambda one: now_of(house, one, machine_now))


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    with site(tmp_path_factory.mktemp("demo"), forecast_source="none") as made:
        upgrade_records(made.house, NOW.date())
        data = demo_data()
        yield Demo(data, settle(made.house, data), None, None)


@pytest.mark.parametrize("hour", [0, 7, 9, 16, 23])
def test_the_links_work_at_any_hour_of_the_machine_for_half_an_hour(demo, hour):
    begun = datetime(2026, 11, 25, hour, 10, tzinfo=UTC)

    links = dict(demo_links(demo, begun))

    assert len(links) == 3
    for link in links.values():
        opened(demo.settled.organiser.house, link, begun + timedelta(minutes=25))
        with pytest.raises(LinkGoneError):
            opened(demo.settled.organiser.house, link, begun + timedelta(minutes=35))
