"""Parcels, ways and days without post: how what is entered is mended. The season's sender is Winnie."""

import re
from typing import Any

from exchange.actions.kernel.links import Purpose
from tests.app_fixtures import link_for
from tests.builders.mended.scene import Mended, Scene
from tests.builders.season import MONDAY

CLOSED = {"day": "2027-06-01", "label": "Regatta", "area": "GB"}
WAY = {
    "name": "Gull post",
    "country": "GB",
    "hand_over_weekdays": ["0", "1"],
    "delivery_weekdays": ["0", "1", "2"],
    "cut_off_hour": "16",
    "depot_offset_c": "0",
    "postage": "",
    "next_day": "100",
    "second_day": "0",
    "third_day": "0",
    "later": "0",
    "used": "y",
}


def the_parcel(scene: Scene) -> str:
    return f"/parcels/{scene.more.parcel_to('Effie').id}"


def post(scene: Scene) -> None:
    scene.press("Winnie", f"{the_parcel(scene)}/posted", {"day": MONDAY.isoformat()})


def came(scene: Scene) -> None:
    sent = {"day": MONDAY.isoformat(), "condition": "well"}
    scene.press("Effie", f"{the_parcel(scene)}/came", sent)


def not_came(scene: Scene) -> None:
    scene.press("Effie", f"{the_parcel(scene)}/not-came")


def came_back(scene: Scene) -> None:
    scene.press("Winnie", f"{the_parcel(scene)}/returned", {"day": MONDAY.isoformat()})


def not_back(scene: Scene) -> None:
    scene.press("Winnie", f"{the_parcel(scene)}/not-returned")


def came_by_link(scene: Scene) -> None:
    parcel = scene.more.parcel_to("Effie")
    path = link_for(scene.here, scene.ring["Effie"], Purpose.DID_IT_COME, parcel.id)
    scene.press("Effie", path, {"answer": "well", "on": MONDAY.isoformat()})


def answer(scene: Scene) -> None:
    scene.said = scene.read("Winnie", "/parcels/answer")
    fields = set(re.findall(r'name="(count-\d+)"', scene.said))
    sent: dict[str, Any] = dict.fromkeys(fields, "1")
    scene.press("Winnie", "/parcels/answer", sent)


def take_closure_back(scene: Scene) -> None:
    scene.press("Winnie", f"/circle/closures/{scene.last('closure')}/take-back")


def the_way(scene: Scene) -> str:
    scene.read("Winnie", "/circle/ways")
    by_post = [key for key, row in scene.table("way").items() if row["carriage"] == "post"]
    return f"/circle/ways/{by_post[0]}"


def split(scene: Scene) -> None:
    field = re.search(r'name="(out-\d+)"', scene.read("Winnie", f"{the_parcel(scene)}/boxes"))
    assert field
    scene.said = the_parcel(scene)
    scene.press("Winnie", f"{scene.said}/split", {field.group(1): "1"})


def bundle(scene: Scene) -> None:
    scene.press("Winnie", f"{scene.said}/bundle/{scene.last('parcel')}")


PARCELS = {
    "boxes.split": Mended("parcel_line", split, undo=bundle),
    "postage.add": Mended(
        "tariff_band",
        lambda scene: scene.press(
            "Winnie", "/postage/tariff", {"name": "up to 2 kg", "price": "3.49"}
        ),
        undo=lambda scene: scene.press(
            "Winnie", f"/postage/tariff/{scene.last('tariff_band')}/remove"
        ),
    ),
    "closures.keep": Mended(
        "closure",
        lambda scene: scene.press("Winnie", "/circle/closures", CLOSED),
        undo=take_closure_back,
    ),
    "closures.open_one": Mended(
        "closure",
        lambda scene: scene.press(
            "Winnie", "/circle/closures/open", {"day": "2027-05-03", "area": "GB-ENG"}
        ),
        undo=take_closure_back,
    ),
    "ways.add": Mended(
        "way",
        lambda scene: scene.press("Winnie", "/circle/ways/new", WAY),
        change=lambda scene: scene.press(
            "Winnie", f"/circle/ways/{scene.last('way')}", {**WAY, "cut_off_hour": "12"}
        ),
    ),
    "ways.keep_through": Mended(
        "route_point",
        lambda scene: scene.press("Winnie", f"{the_way(scene)}/through", {"town": "Shap, Cumbria"}),
        undo=lambda scene: scene.press("Winnie", f"{the_way(scene)}/through/remove"),
    ),
    "parcels.keep_posted": Mended(
        "parcel",
        post,
        undo=lambda scene: scene.press("Winnie", f"{the_parcel(scene)}/not-posted"),
    ),
    "parcels.keep_came": Mended("batch", came, undo=not_came),
    "parcels.lost": Mended(
        "parcel",
        lambda scene: scene.press("Effie", f"{the_parcel(scene)}/lost"),
        undo=not_came,
    ),
    "answers.answer": Mended("batch", came_by_link, undo=not_came),
    "parcel_ends.keep_returned": Mended("parcel", came_back, undo=not_back, prepare=post),
    "parcels.keep_answer": Mended(
        "allocation", answer, sentence="Until it is posted you can still say no"
    ),
}
