"""What is asked of the running house itself."""

from exchange.actions.kernel.actor import House


def is_alive(house: House) -> bool:
    """Say whether the records answer."""
    return house.books.alive()
