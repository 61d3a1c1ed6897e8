"""Where this machine is found on the home network."""

import socket
from dataclasses import replace
from ipaddress import IPv4Address

from exchange.settings import Settings

EVERYWHERE = str(IPv4Address(0))
NOWHERE = ("192.0.2.1", 9)
"""An address kept for documentation (RFC 5737); nothing is sent to it."""


def home_address() -> str | None:
    """Give this machine's address on the network it reaches others by, or None where there is none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as line:
        try:
            line.connect(NOWHERE)
        except OSError:
            return None
        address: str = line.getsockname()[0]
    return None if address.startswith(("127.", "0.")) else address


def at_home(settings: Settings) -> Settings:
    """Give settings that listen on the home network, and whose links begin with the address there.

    A public address that is set stays; without a network the links stay as they are.
    """
    found = home_address()
    listening = replace(settings, home_network=True, host=EVERYWHERE)
    if settings.public_url or found is None:
        return replace(listening, host=settings.host if found is None else EVERYWHERE)
    return replace(listening, public_url=f"http://{found}:{settings.port}")
