"""A season built once and copied for each test, so that every test quickly has a database of its own."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from exchange.actions.kernel.actor import House
from tests.app_fixtures import Site, a_house, site
from tests.builders.season import Season, a_season, announce


@dataclass(frozen=True)
class Kept:
    """A folder whose database holds a planned season; nobody writes to it any more."""

    folder: Path
    season: Season


def keep_season(folder: Path, then: Callable[[Season], None] = lambda _season: None, **how) -> Kept:
    """Build a season with mild weather, plan it, and close its database; `then` may add to it first."""
    with a_house(folder) as house:
        season = a_season(house, **how)
        then(season)
        announce(season)
    return Kept(folder, season)


@contextmanager
def season_in_house(kept: Kept, folder: Path) -> Iterator[Season]:
    """Give a copy of the season without pages."""
    shutil.copytree(kept.folder, folder, dirs_exist_ok=True)
    with a_house(folder) as house:
        yield _moved(kept.season, house)


@contextmanager
def season_on_site(kept: Kept, folder: Path) -> Iterator[tuple[Site, Season]]:
    """Give a copy of the season with its pages."""
    shutil.copytree(kept.folder, folder, dirs_exist_ok=True)
    with site(folder) as here:
        yield here, _moved(kept.season, here.house)


def _moved(season: Season, house: House) -> Season:
    return replace(season, house=house, ring=replace(season.ring, house=house))
