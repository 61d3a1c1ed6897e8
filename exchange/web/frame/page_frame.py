"""The frame of the page being shown: the row of pages, who is signed in, larger text."""

from typing import Any

from flask import request, url_for

from exchange.web.frame.help_pages import help_for
from exchange.web.frame.layout import Frame, PageLink
from exchange.web.frame.session import house, maybe_standing
from exchange.words.kernel.addresses import only_here

LARGER_TEXT_COOKIE = "larger_text"
MEMBER_PAGES = (
    ("To do", "/todo"),
    ("Spares", "/spares"),
    ("Claims", "/claims"),
    ("Parcels", "/parcels"),
    ("Varieties", "/varieties"),
    ("My garden", "/garden"),
)
WITHIN = {
    "/circle": ("/people", "/letters", "/who-did-what", "/tasks", "/weather", "/lists", "/season"),
    "/garden": ("/my-password", "/my-sign-in"),
}
"""Pages that belong under another page's link."""
ORGANISER_PAGES = (*MEMBER_PAGES, ("Share-out", "/share-out"), ("The circle", "/circle"))


def frame_for_templates() -> dict[str, Any]:
    """Give every template its frame, and what is said beside links that only this machine can open."""
    return {"frame": frame(), "only_here": lambda: only_here(house().public_url)}


def frame() -> Frame:
    larger = request.cookies.get(LARGER_TEXT_COOKIE) == "yes"
    larger_text_url = url_for("door.larger_text")
    stands = maybe_standing()
    if stands is None:
        return Frame(
            larger_text=larger, larger_text_url=larger_text_url, help_url=help_for(request.path)
        )
    names = ORGANISER_PAGES if stands.member.organiser else MEMBER_PAGES
    return Frame(
        circle_name=stands.circle.name,
        home_url="/todo",
        pages=tuple(PageLink(name, url, _is_current(url)) for name, url in names),
        person=stands.member.full_name,
        runs_circle=stands.member.organiser,
        acting_for=stands.acting_for.full_name if stands.acting_for else "",
        stop_acting_url=url_for("act_for.stop"),
        larger_text=larger,
        larger_text_url=larger_text_url,
        help_url=help_for(request.path),
        words_url="/help/words",
        sign_out_url=url_for("security.logout"),
    )


def _is_current(url: str) -> bool:
    return any(
        request.path == start or request.path.startswith(f"{start}/")
        for start in (url, *WITHIN.get(url, ()))
    )
