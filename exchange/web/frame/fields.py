"""Fields the forms share."""

from wtforms import DecimalField
from wtforms.widgets import TextInput

LARGEST_ID = 2**31 - 1
"""The largest number a row of the records can have on either database."""


def an_id(chosen: object) -> int:
    """Give the number of a row that was chosen; the act says whether it may be.

    Raises
    ------
    ValueError
        When it is no number of a row, for the field to refuse.
    """
    number = int(str(chosen))
    if not 0 <= number <= LARGEST_ID:
        raise ValueError
    return number


def an_id_or_nobody(chosen: object) -> str:
    """Give the same as text, where nothing may be chosen as well."""
    return str(an_id(chosen)) if chosen else ""


class NumberField(DecimalField):
    """A number that may have decimals, with a point or a comma, typed as text with number keys.

    What was typed wrongly comes back to be put right, where a number input would show nothing.
    """

    widget = TextInput()

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, places=None, render_kw={"inputmode": "decimal"}, **kwargs)

    def process_formdata(self, valuelist: list[str]) -> None:
        super().process_formdata([text.strip().replace(",", ".") for text in valuelist])

    def _value(self) -> str:
        typed = self.raw_data[0] if self.raw_data else None
        return self.plainly() if typed is None else str(typed)

    def plainly(self) -> str:
        """Give the number without needless decimals; nothing while there is none."""
        return "" if self.data is None else f"{float(self.data):.3f}".rstrip("0").rstrip(".")
