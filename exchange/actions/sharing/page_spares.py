"""The list of spares: narrowed by a search, a page at a time."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.sharing.page_spare import SpareLine, lines_of, open_share_out
from exchange.domain.growing.batch import Material
from exchange.domain.growing.names import fold_accents, near
from exchange.domain.growing.variety import Species
from exchange.domain.permissions import Permission
from exchange.records.rows.sharing import ShareOutRow

PAGE_OF_SPARES = 25


@dataclass(frozen=True, slots=True)
class Search:
    """What the list is narrowed to.

    Attributes
    ----------
    text : part of a name
    mine : only what the household lists itself
    left_only : only spares of which plants are left
    """

    text: str = ""
    species: Species | None = None
    material: Material | None = None
    mine: bool = False
    left_only: bool = False
    page: int = 1


@dataclass(frozen=True, slots=True)
class SparesPage:
    """The list of spares.

    Attributes
    ----------
    meant : names that may be meant when nothing was found
    """

    lines: tuple[SpareLine, ...]
    found: int
    all_together: int
    varieties: int
    page: int
    pages: int
    search: Search
    meant: tuple[str, ...]
    share_out: ShareOutRow | None
    today: date


def spares_page(actor: Actor, search: Search, now: datetime) -> SparesPage:
    """Show the spares the search narrows to, a page of them."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        today = today_in(circle_of(actor, tx), now)
        lines = tuple(line for line in lines_of(tx, actor, today) if line.mine or not line.passed)
        share_out = open_share_out(tx, actor.circle_id)
    found = tuple(line for line in lines if _fits(line, search))
    pages = max(1, -(-len(found) // PAGE_OF_SPARES))
    page = min(max(1, search.page), pages)
    part = found[(page - 1) * PAGE_OF_SPARES : page * PAGE_OF_SPARES]
    names = dict.fromkeys(line.variety.name for line in lines)
    return SparesPage(
        part,
        len(found),
        len(lines),
        len({line.variety.id for line in lines}),
        page,
        pages,
        search,
        near(search.text, names) if search.text and not found else (),
        share_out,
        today,
    )


def _fits(line: SpareLine, search: Search) -> bool:
    wanted = fold_accents(search.text)
    words = f"{fold_accents(line.variety.name)} {fold_accents(line.holder)}"
    return (
        (not wanted or wanted in words)
        and search.species in (None, line.variety.species)
        and search.material in (None, line.spare.material)
        and (line.mine or not search.mine)
        and (line.left > 0 or not search.left_only)
    )
