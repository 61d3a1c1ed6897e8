"""What an installation is made of, by its settings."""

from datetime import date

import pytest

from exchange.actions.kernel.services import TLS_PORT, open_house
from exchange.mail.sending import Security
from exchange.settings import Settings

MAIL = {
    "mail_server": "mail.example",
    "mail_user": "exchange",
    "mail_password": "hush",
    "mail_from": "circle@mail.example",
}


def house_with(tmp_path, **settings):
    return open_house(Settings(data_folder=tmp_path, **settings), lambda: "token")


def test_without_a_mail_server_no_letter_is_sent(tmp_path):
    assert house_with(tmp_path).mail is None


@pytest.mark.parametrize(
    ("port", "starttls", "security"),
    [
        (TLS_PORT, False, Security.TLS),
        (TLS_PORT, True, Security.TLS),
        (587, True, Security.STARTTLS),
        (25, False, Security.NONE),
    ],
)
def test_the_port_of_tls_is_spoken_to_in_tls_whatever_else_is_set(
    tmp_path, port, starttls, security
):
    mail = house_with(tmp_path, mail_port=port, mail_starttls=starttls, **MAIL).mail

    assert (mail.host, mail.port, mail.security) == ("mail.example", port, security)
    assert (mail.user, mail.password) == ("exchange", "hush")


def test_a_saved_forecast_is_read_only_where_it_is_the_source(tmp_path):
    file = tmp_path / "forecast.json"

    saved = house_with(tmp_path, forecast_source="saved", forecast_file=file).forecasts
    none = house_with(tmp_path, forecast_source="none", forecast_file=file).forecasts

    assert (saved.saved_file, saved.order) == (str(file), ())
    assert (none.saved_file, none.order) == ("", ())


def test_services_are_asked_in_the_order_set(tmp_path):
    house = house_with(
        tmp_path, forecast_source="us-nws, open-meteo", forecast_contact="a@b.example"
    )

    assert house.forecasts.order == ("us-nws", "open-meteo")
    assert house.forecasts.contact == "a@b.example"


def test_a_fixed_day_and_the_address_are_the_settings_own(tmp_path):
    house = house_with(tmp_path, today=date(2027, 4, 19), public_url="http://circle.example/")

    assert (house.fixed_today, house.public_url) == (date(2027, 4, 19), "http://circle.example")
    assert house.new_token() == "token"
