"""What is said of an address that only this machine can open."""

from ipaddress import ip_address
from urllib.parse import urlsplit


def only_here(address: str) -> str:
    """Say why nobody else can open links that begin with an address; empty where others can."""
    host = urlsplit(address).hostname or ""
    if host != "localhost":
        try:
            number = ip_address(host)
        except ValueError:
            return ""
        if not (number.is_loopback or number.is_unspecified):
            return ""
    return (
        f"Nobody else can open links that begin with {address}: {host} means the very machine one sits at. "
        "Serve the pages on the home network with exchange serve --home, or set public_url."
    )


def only_there(address: str) -> str:
    """Say the same to who reads such a link in a letter; empty where others can open it."""
    if not only_here(address):
        return ""
    return "The links in this letter open only on the machine that runs the circle: it has no public address yet."
