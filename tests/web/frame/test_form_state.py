from decimal import Decimal

import pytest
from werkzeug.datastructures import MultiDict
from wtforms import Form

from exchange.web.frame.form_state import NumberField


class Height(Form):
    metres = NumberField("Height")


def typed(text):
    return Height(MultiDict({"metres": text}))


@pytest.mark.parametrize(
    ("text", "value"), [("2.5", "2.5"), ("2,5", "2.5"), (" 84 ", "84"), ("-1,25", "-1.25")]
)
def test_a_number_may_have_a_point_or_a_comma(text, value):
    form = typed(text)

    assert form.validate()
    assert form.metres.data == Decimal(value)


def test_what_was_typed_wrongly_comes_back_to_be_put_right():
    form = typed("about 3")

    assert not form.validate()
    assert 'value="about 3"' in form.metres()


@pytest.mark.parametrize(
    ("value", "shown"), [(None, ""), (2.5, "2.5"), (84.0, "84"), (0.12345, "0.123"), (100, "100")]
)
def test_a_number_is_shown_without_idle_zeros(value, shown):
    assert f'value="{shown}"' in Height(metres=value).metres()
