"""People, places, days away, calendars, letters, files: how what is entered is mended."""

import io
import re
from html import unescape
from typing import Any

from exchange.actions.people.members import NewMember, invite
from tests.app_fixtures import NOW, Visitor, path_of
from tests.builders.mended.scene import Mended, Scene

AWAY = {"first": "2027-07-08", "last": "2027-07-19", "cannot_post": "y"}
PLACE = {"name": "allotment", "town": "SY8", "lie": "hollow", "home_by": "17"}
CSV = b"""Variety,Kind,Whose,How many,Sent as
Tin Kettle,Dahlia,Effie,3,rooted
Brass Thimble,Pelargonium,Cuthbert,2,young plant
"""


def the_place(scene: Scene) -> str:
    return f"/garden/places/{scene.ring.place('Effie').id}"


def leave(scene: Scene) -> None:
    scene.press("Winnie", f"/people/{scene.last('member')}/leave")


def set_up(scene: Scene, **said: Any) -> None:
    sent = {"town": "Oban", "telephone": "01632 960111", **said}
    scene.press("Winnie", f"/people/{scene.last('member')}/set-up", sent)


def look_over(scene: Scene) -> None:
    asked = scene.visitor("Winnie").post("/people/invite", {"lines": "Hob, Ludlwo"})
    key = re.search(r'<option value="([\d.,-]+)">Ludlow, Shropshire', asked.text)
    assert key
    row = {"text": "Hob, Ludlwo", "name": "Hob", "town": "Ludlwo", "chosen": key.group(1)}
    sent = {f"people-0-{name}": value for name, value in row.items()}
    scene.press("Winnie", "/people/invite/table", sent)


def join(scene: Scene) -> None:
    new = NewMember("Morag", "Ross", "morag@example.org")
    invited = invite(scene.ring.actor("Winnie"), new, NOW)
    scene.visitors["Morag"] = Visitor(scene.here)
    sent = {"first_name": "Morag", "surname": "Ross", "town": "Oban"}
    scene.press("Morag", path_of(invited.link), sent)


def correct_where_one_joined(scene: Scene) -> None:
    sent = {"name": "home", "town": "Oban", "lie": "open", "home_by": "9"}
    scene.press("Morag", f"/garden/places/{scene.last('place')}", sent)


def write_letter(scene: Scene) -> None:
    page = scene.visitor("Winnie").get("/letters/own-words").text
    once = re.search(r'name="once"[^>]*value="([^"]+)"', page)
    assert once
    scene.more = unescape(once.group(1))
    sent = {"once": scene.more, "to": "everybody", "subject": "Meeting", "text": "At ten."}
    scene.press("Winnie", "/letters/own-words", sent)


def hand_in(scene: Scene) -> None:
    scene.press("Winnie", "/read-in", {"file": (io.BytesIO(CSV), "spares.csv")})


def fields_of(page: str) -> dict[str, str]:
    """Give what a browser would send of the form of a file."""
    found = re.search(r'<form class="stack".*?</form>', page, re.DOTALL)
    assert found
    form, sent = found.group(), {}
    for tag in re.findall(r"<input[^>]*>", form):
        said = dict(re.findall(r'(\w+)="([^"]*)"', tag))
        if said.get("type") != "checkbox" or " checked" in tag:
            sent[said["name"]] = said.get("value", "")
    for name, options in re.findall(r'<select[^>]*name="([^"]*)">(.*?)</select>', form, re.DOTALL):
        values = re.findall(r'<option value="([^"]*)"( selected)?', options)
        sent[name] = next((value for value, on in values if on), values[0][0])
    return sent


def look_at_file(scene: Scene) -> None:
    hand_in(scene)
    scene.more = f"/read-in/{scene.last('spreadsheet')}"
    scene.press("Winnie", scene.more, fields_of(scene.read("Winnie", scene.more)))


def bring_in(scene: Scene) -> None:
    sent = fields_of(scene.read("Winnie", scene.more))
    scene.press("Winnie", f"{scene.more}/bring-in", sent)


PEOPLE = {
    "own_terms.away": Mended(
        "away",
        lambda scene: scene.press("Effie", "/garden/away", AWAY),
        undo=lambda scene: scene.press("Effie", f"/garden/away/{scene.last('away')}/take-back"),
        change=lambda scene: scene.press(
            "Winnie", f"/garden/away/{scene.last('away')}", AWAY | {"last": "2027-07-20"}
        ),
    ),
    "garden.new_place": Mended(
        "place",
        lambda scene: scene.press("Effie", "/garden/places/new", PLACE),
        undo=lambda scene: scene.press("Effie", f"/garden/places/{scene.last('place')}/remove"),
        change=lambda scene: scene.press(
            "Winnie", f"/garden/places/{scene.last('place')}", PLACE | {"home_by": "9"}
        ),
    ),
    "garden.keep_shelter": Mended(
        "shelter",
        lambda scene: scene.press("Effie", f"{the_place(scene)}/shelter", {"kind": "cold"}),
        undo=lambda scene: scene.press("Effie", f"/garden/shelters/{scene.last('shelter')}/remove"),
        change=lambda scene: scene.press(
            "Winnie", f"{the_place(scene)}/shelter", {"kind": "cold", "trays": "2"}
        ),
    ),
    "first_steps.shelters": Mended(
        "shelter",
        lambda scene: scene.press("Effie", "/first-steps/shelters", {"shelter": "cold"}),
        undo=lambda scene: scene.press("Effie", f"/garden/shelters/{scene.last('shelter')}/remove"),
    ),
    "invitation.take": Mended("place", join, change=correct_where_one_joined),
    "inviting.write": Mended(
        "member",
        lambda scene: scene.press("Winnie", "/people/invite", {"lines": "Hob, Ludlow"}),
        undo=leave,
        change=set_up,
    ),
    "inviting.look_over": Mended("member", look_over, undo=leave, change=set_up),
    "set_up.keep_new": Mended(
        "member",
        lambda scene: scene.press(
            "Winnie", "/people/add", {"first_name": "Hob", "household": "0", "town": "Oban"}
        ),
        undo=leave,
        change=set_up,
    ),
    "set_up.keep": Mended(
        "shelter",
        lambda scene: set_up(scene, shelters=["cold"]),
        undo=lambda scene: scene.press(
            "Winnie", f"/garden/shelters/{scene.last('shelter')}/remove"
        ),
    ),
    "calendars.make": Mended(
        "calendar_address",
        lambda scene: scene.press("Effie", "/calendars/member/address"),
        undo=lambda scene: scene.press("Effie", "/calendars/member/stop"),
    ),
    "read_in.take": Mended(
        "spreadsheet",
        hand_in,
        undo=lambda scene: scene.press(
            "Winnie", f"/read-in/{scene.last('spreadsheet')}/throw-away"
        ),
    ),
    "read_in.bring": Mended(
        "spare",
        bring_in,
        undo=lambda scene: scene.press("Winnie", f"{scene.more}/undo"),
        prepare=look_at_file,
    ),
    "write.send": Mended(
        "letter",
        write_letter,
        undo=lambda scene: scene.press("Winnie", f"/letters/own-words/{scene.more}/take-back"),
    ),
}
