"""Walking through pages in a browser as a person does, and counting what it takes."""

from dataclasses import dataclass, field


@dataclass
class Counted:
    """A page that is walked on, with how many pages were loaded and how often something was pressed.

    Attributes
    ----------
    page : the browser's page
    loads : pages loaded, those that come back with something to put right too
    presses : buttons, links, boxes and choices pressed; what is typed is not counted
    """

    page: object
    loads: int = 0
    presses: int = 0
    seen: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.page.on("load", self._loaded)

    def _loaded(self, page: object) -> None:
        self.loads += 1
        self.seen.append(page.url.partition("//")[2].partition("/")[2].partition("?")[0])

    def open(self, url: str) -> None:
        """Open an address, as from a letter or the terminal."""
        self.page.goto(url)

    def link(self, name: str) -> None:
        """Press the first link of a name."""
        self._press(self.page.get_by_role("link", name=name).first)

    def button(self, name: str) -> None:
        """Press the first button of a name."""
        self._press(self.page.get_by_role("button", name=name).first)

    def tick(self, name: str) -> None:
        """Tick a box that loads nothing."""
        self.page.get_by_label(name, exact=True).check()
        self.presses += 1

    def choose(self, selector: str, value: str) -> None:
        """Choose from a list that loads nothing."""
        self.page.locator(selector).select_option(value)
        self.presses += 1

    def fill(self, label: str, text: str) -> None:
        """Type into a field."""
        self.page.get_by_label(label).first.fill(text)

    def says(self) -> str:
        """Give what the page says, with plain spaces."""
        return " ".join(self.page.inner_text("main").split())

    def _press(self, there: object) -> None:
        with self.page.expect_navigation():
            there.click()
        self.presses += 1
