"""What somebody who leaves the circle is asked and told."""

from collections.abc import Sequence

from exchange.words.kernel.phrase import NBSP, counted, listed

MOST_NAMED = 6


def only_held(names: Sequence[str]) -> str:
    """Ask about what only they hold."""
    said = [f"‘{name}’" for name in names[:MOST_NAMED]]
    if len(names) > MOST_NAMED:
        said.append(f"{len(names) - MOST_NAMED}{NBSP}more")
    return f"Nobody else here is known to hold {listed(said)}. List a plant of each first, or say that it is known."


def lead(first_name: str, *, alone: bool) -> str:
    """Say what leaving means."""
    ends = (
        " Claims and spares leave too; what was promised and has not gone is asked of others."
        if alone
        else " The household stays, with its places and plants."
    )
    return f"{first_name} gets no more letters and cannot sign in here.{ends}"


def on_their_way(parcels: int) -> str:
    """Say what is still to come."""
    which = "it" if parcels == 1 else "they"
    still = counted(parcels, "parcel is", "parcels are")
    return f"{still} still on the way; say first how {which} came."
