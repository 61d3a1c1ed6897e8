"""Fields the forms share."""

from wtforms import DecimalField
from wtforms.widgets import TextInput


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
