"""Whether the running installation is well."""

from exchange.actions.kernel.actor import House


def is_alive(house: House) -> bool:
    """Say whether the records answer."""
    return house.books.alive()
