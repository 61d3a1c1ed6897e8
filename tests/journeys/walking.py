"""Walking through served pages by their links, one page of every kind."""

import re
from urllib.parse import urljoin, urlsplit

from axe_playwright_python.sync_playwright import Axe

from tests.journeys.seeing import RULES, open_all, sideways

NOT_FOLLOWED = re.compile(r"/(sign-out|logout|static|cal)\b|\.(pdf|ics|json|csv|xlsx)$|/security/")
ALIKE = re.compile(r"(?<=/circle/terms/)\w+|(?<=/help/)[\w-]+")
"""Pages that differ in one field, or in their words, only."""
ROWS_KEPT = 6
"""Rows of a long table, or lines of a long list, are alike: only this many are looked at."""


def kind_of(path):
    """Give the kind of a page: its path with numbers left out, and the names of what it is asked."""
    parts = urlsplit(path)
    asked = ",".join(sorted(one.partition("=")[0] for one in parts.query.split("&") if one))
    return re.sub(r"\d+", "n", ALIKE.sub("x", parts.path)), asked


def walk(page, address, look):
    """Open one page of every kind that links lead to from the first; give what was found on each.

    Links are read from the page's source, which needs no script.
    """
    waiting, seen, found = ["/todo"], set(), {}
    while waiting:
        path = waiting.pop(0)
        if kind_of(path) in seen or NOT_FOLLOWED.search(urlsplit(path).path):
            continue
        seen.add(kind_of(path))
        answer = page.goto(address + path)
        problems = [] if answer.status == 200 else [f"status {answer.status}"]
        for href in re.findall(r'<a [^>]*href="([^"#]+)', answer.text()):
            onward = urlsplit(urljoin(address + path, href.replace("&amp;", "&")))
            if f"{onward.scheme}://{onward.netloc}" == address:
                waiting.append(onward.path + (f"?{onward.query}" if onward.query else ""))
        found[path] = problems + look(page)
    return found


def wrong(found):
    return {path: problems for path, problems in found.items() if problems}


def too_wide(page):
    """Say by how much a page is too wide, and what stands out first."""
    if sideways(page) <= 0:
        return []
    first = page.evaluate(
        """() => [...document.querySelectorAll('main *')].filter(one =>
            one.getBoundingClientRect().right > document.documentElement.clientWidth + 1)
            .slice(0, 3).map(one => one.outerHTML.slice(0, 150))"""
    )
    return [f"too wide by {sideways(page)}: {first}"]


def look_narrow_and_wide(page):
    """Look a page over as a telephone and as a computer show it, with all of it opened."""
    open_all(page)
    page.set_viewport_size({"width": 320, "height": 900})
    problems = too_wide(page)
    page.evaluate(
        """kept => document.querySelectorAll('tbody, ul, ol, select, dl, g').forEach(part =>
            [...part.children].slice(kept * (part.tagName === 'DL' ? 2 : 1))
                .forEach(one => part.tagName === 'G' || one.remove()))""",
        ROWS_KEPT,
    )
    found = Axe().run(page, options=RULES).response["violations"]
    page.set_viewport_size({"width": 1280, "height": 900})
    problems += too_wide(page)
    found += page.evaluate("rules => axe.run(document, rules)", RULES)["violations"]
    return problems + [
        f"{fault['id']}: {fault['help']} at {fault['nodes'][0]['html'][:160]}" for fault in found
    ]
