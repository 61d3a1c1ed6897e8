"""What the layout shows around every page."""

from dataclasses import dataclass
from typing import NamedTuple


class PageLink(NamedTuple):
    """A word in the row of pages."""

    label: str
    url: str
    current: bool = False


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame of a page; an empty person means that nobody is signed in.

    Attributes
    ----------
    pages : "To do", "Spares", "Claims", "Parcels", "Varieties", "My garden"; for the organiser
        also "Share-out" and "The circle"
    runs_circle : the reader is an organiser
    acting_for : the member the organiser acts for, or nothing
    larger_text : the reader has chosen larger text
    larger_text_url : takes a POST whose field `larger` is "yes" or empty, and comes back
    stop_acting_url, sign_out_url : take a POST
    """

    circle_name: str = ""
    home_url: str = "/"
    pages: tuple[PageLink, ...] = ()
    person: str = ""
    runs_circle: bool = False
    acting_for: str = ""
    stop_acting_url: str = ""
    larger_text: bool = False
    larger_text_url: str = ""
    help_url: str = ""
    words_url: str = ""
    sign_out_url: str = ""
