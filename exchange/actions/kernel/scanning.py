"""Addresses as pictures to scan."""

from exchange.papers.qr_code import squares_of
from exchange.words.kernel.terminal import squares_as_text


def address_to_scan(address: str) -> str:
    """Give an address as a picture for the terminal, two rows of squares in a line of text."""
    return squares_as_text(squares_of(address))
