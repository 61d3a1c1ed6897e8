"""Setting up in conversation: what is asked, what is asked again, what is said where nobody can answer."""

import re
import stat
import tomllib

import pytest
from click.testing import CliRunner

from exchange.cli import main
from tests.app_fixtures import mail_server
from tests.builders.terminal import talk

NAMED = ("--circle", "Ours", "--organiser", "Ada", "--email", "ada@example.org")


def init(folder, *words):
    return CliRunner().invoke(main, ["--folder", str(folder), "init", *words])


def settings_in(folder):
    path = folder / "settings.toml"
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.exists() else {}


def test_a_terminal_is_asked_for_everything_and_bad_answers_again(tmp_path):
    folder = tmp_path / "Käte’s Kreis"
    status, seen = talk(
        ["--folder", folder, "init"],
        [
            ("Name of the circle", " "),
            ("Write the name.", "Our Circle"),
            ("First name", "Ada"),
            ("E-mail", "ada at home"),
            ("looks like name@example.org", "ada@example.org"),
            ("About how many", "lots"),
            ("from 1 to 500", "12"),
            ("open the pages", "circle.example"),
            ("begins with https://", "http://127.0.0.1:8080"),
            ("Only this machine", "https://circle.example/"),
            ("Mail server", "none"),
        ],
    )

    assert status == 0, seen
    assert settings_in(folder) == {"public_url": "https://circle.example"}
    assert re.search(r"https://circle\.example/join/[\w-]{40,}", seen)
    assert "Nobody else can open" not in seen


def test_the_home_network_is_the_usual_answer_and_the_link_begins_with_its_address(tmp_path):
    status, seen = talk(
        ["--folder", tmp_path / "ours", "init", *NAMED],
        [("About how many", ""), ("open the pages", ""), ("Mail server", "")],
    )

    host = re.search(r"http://([\d.]+):8080/join/", seen).group(1)
    assert status == 0, seen
    assert settings_in(tmp_path / "ours") == {"home_network": True}
    assert ("Nobody else can open" in seen) is (host == "127.0.0.1"), "where there is no network"


def test_a_test_letter_goes_out_and_wrong_answers_are_put_right(tmp_path):
    folder = tmp_path / "ours"
    with mail_server() as (server, box):
        status, seen = talk(
            ["--folder", folder, "init", *NAMED, "--members", "9", "--address", "home"],
            [
                ("Mail server", "127.0.0.1"),
                ("Its port", "1"),
                ("sign in", ""),
                ("letters come from", "circle@example.org"),
                ("It cannot be reached", ""),
                ("Its port [1]", str(server.port)),
                ("sign in", ""),
                ("come from [circle@example.org]", ""),
            ],
            {"EXCHANGE_MAIL_STARTTLS": "no"},
        )

    assert status == 0, seen
    assert [one.rcpt_tos for one in box.taken] == [["ada@example.org"]]
    assert b"Subject: Ours: a test letter" in box.taken[0].content
    kept = {"mail_server": "127.0.0.1", "mail_port": server.port, "mail_from": "circle@example.org"}
    assert settings_in(folder) == {"home_network": True, **kept}
    assert stat.S_IMODE((folder / "settings.toml").stat().st_mode) == 0o600


def test_a_mail_server_that_takes_nothing_can_be_left_out(tmp_path):
    folder = tmp_path / "ours"
    status, seen = talk(
        ["--folder", folder, "init", *NAMED, "--members", "9", "--address", "home"],
        [
            ("Mail server", "127.0.0.1"),
            ("Its port", "1"),
            ("sign in", "ada"),
            ("password", "secret"),
            ("letters come from", ""),
            ("It cannot be reached", "none"),
        ],
    )

    assert status == 0, seen
    assert "secret" not in seen
    assert settings_in(folder) == {"home_network": True}


def test_a_name_the_records_refuse_is_asked_again_and_the_rest_is_kept(tmp_path):
    assert init(tmp_path, *NAMED).exit_code == 0

    status, seen = talk(
        [
            "--folder",
            tmp_path,
            "init",
            *NAMED,
            "--members",
            "9",
            "--address",
            "home",
            "--mail-server",
            "none",
        ],
        [("There is a circle called Ours here already.", "The Others")],
    )

    assert status == 0, seen
    assert "The circle The Others is set up" in seen


def test_a_bad_option_at_a_terminal_is_told_and_asked_for(tmp_path):
    words = ["--circle", "Ours", "--organiser", "Ada", "--email", "nonsense", "--members", "9"]
    status, seen = talk(
        [
            "--folder",
            tmp_path / "ours",
            "init",
            *words,
            "--address",
            "home",
            "--mail-server",
            "none",
        ],
        [("--email: That is no e-mail address", "ada@example.org")],
    )

    assert status == 0, seen


@pytest.mark.parametrize(
    ("words", "missing"),
    [
        ((), "--circle and --organiser and --email"),
        (("--circle", "Ours"), "--organiser and --email"),
        (NAMED[:4], "Missing --email"),
    ],
)
def test_where_nobody_can_answer_missing_options_are_named_and_nothing_is_made(
    tmp_path, words, missing
):
    result = init(tmp_path / "ours", *words)

    assert result.exit_code == 2
    assert missing in result.stderr
    assert not (tmp_path / "ours").exists()


@pytest.mark.parametrize(
    ("option", "bad"),
    [
        ("--members", "many"),
        ("--members", "501"),
        ("--address", "circle.example"),
        ("--address", "http://0.0.0.0:8080"),
        ("--mail-server", "ada@example.org"),
        ("--email", "nonsense"),
    ],
)
def test_where_nobody_can_answer_a_bad_option_is_named_and_nothing_is_made(tmp_path, option, bad):
    result = init(tmp_path / "ours", *NAMED, option, bad)

    assert result.exit_code == 1
    assert option in result.stderr
    assert not (tmp_path / "ours").exists()


def test_where_nobody_can_answer_a_mail_server_that_takes_nothing_ends_it(tmp_path):
    words = ("--mail-server", "127.0.0.1", "--mail-port", "1")
    refused = init(tmp_path / "ours", *NAMED, *words)
    untried = init(tmp_path / "ours", *NAMED, *words, "--no-test-letter")

    assert (refused.exit_code, untried.exit_code) == (1, 0)
    assert "It cannot be reached" in refused.stderr
    assert settings_in(tmp_path / "ours")["mail_from"] == "ada@example.org"


def test_a_further_circle_keeps_the_mail_server_and_address_there_are(tmp_path):
    assert init(tmp_path, *NAMED, "--address", "https://circle.example").exit_code == 0

    further = init(tmp_path, "--circle", "Others", *NAMED[2:], "--address", "https://other.example")

    assert further.exit_code == 0
    assert settings_in(tmp_path) == {"public_url": "https://circle.example"}


def test_a_link_only_this_machine_can_open_is_not_printed_without_saying_why(tmp_path):
    made = init(tmp_path, *NAMED)
    fresh = CliRunner().invoke(main, ["--folder", str(tmp_path), "invite", "ada@example.org"])

    for told in (made.output, fresh.output):
        assert "http://127.0.0.1:8080/join/" in told
        assert "Nobody else can open links that begin with http://127.0.0.1:8080" in told
