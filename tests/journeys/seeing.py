"""What a browser can tell of a page that is open in it."""

from axe_playwright_python.sync_playwright import Axe

RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}
"""Web Content Accessibility Guidelines 2.2, conformance A and AA, and axe's best practice."""


def faults(page) -> list[str]:
    """Give what axe finds, each with its first place."""
    found = Axe().run(page, options=RULES).response["violations"]
    return [
        f"{fault['id']}: {fault['help']} at {fault['nodes'][0]['html'][:160]}" for fault in found
    ]


def sideways(page) -> int:
    """Give by how much the page is wider than its window [px]."""
    return page.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )


def open_all(page) -> None:
    """Open everything that is folded away."""
    page.evaluate("document.querySelectorAll('details').forEach(part => part.open = true)")


def low_targets(page, least_px: float = 44) -> list[str]:
    """Give what can be pressed, stands alone and is lower than it should be [px]."""
    return page.evaluate(
        """least => [...document.querySelectorAll('a, button, summary, select, input, textarea')]
            .filter(one => one.offsetParent && !one.closest('p:not(.presses), td, dd')
                && !['checkbox', 'radio', 'hidden'].includes(one.type)
                && !one.classList.contains('skip')
                && one.getBoundingClientRect().height < least)
            .map(one => one.outerHTML.slice(0, 120))""",
        least_px,
    )
