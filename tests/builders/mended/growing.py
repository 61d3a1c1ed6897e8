"""Varieties, plants, classes, nights: how what is entered is mended."""

import io

from tests.builders.mended.scene import Mended, Scene
from tests.builders.offers import a_variety

NAMED = {"name": "Tin Kettle", "kind": "dahlia"}
CLASS = {"kind": "fuchsia", "sort": "group", "label": "Triphylla", "society": ""}
NIGHTS = b"date,tmin_c\n2027-04-01,-1\n2027-04-02,2.5\n"


def grow(scene: Scene) -> None:
    scene.more = a_variety(scene.ring)
    scene.press(
        "Effie",
        f"/varieties/{scene.more}/grow",
        {
            "plants": "4",
            "material": "pot_tuber",
            "raised": "cool",
            "shelter": "",
            "place": str(scene.ring.place("Effie").id),
        },
    )


def the_batch(scene: Scene) -> str:
    return f"/varieties/{scene.more}/batches/{scene.last('batch')}"


def weather_at(scene: Scene) -> str:
    return f"/weather/places/{scene.ring.place('Effie').id}"


def bring_file(scene: Scene) -> None:
    sent = {"file": (io.BytesIO(NIGHTS), "own.csv")}
    scene.press("Effie", f"{weather_at(scene)}/file", sent, content_type="multipart/form-data")


GROWING = {
    "varieties.name_new": Mended(
        "variety",
        lambda scene: scene.press("Effie", "/varieties/new", NAMED),
        undo=lambda scene: scene.press("Effie", f"/varieties/{scene.last('variety')}/remove"),
        change=lambda scene: scene.press(
            "Winnie",
            f"/varieties/{scene.last('variety')}/correct",
            NAMED | {"name": "Copper Pan", "group_id": "0", "size_id": "0"},
        ),
    ),
    "varieties.keep_batch": Mended(
        "batch",
        grow,
        undo=lambda scene: scene.press("Effie", f"{the_batch(scene)}/remove"),
        change=lambda scene: scene.press("Winnie", the_batch(scene), {"plants": "1"}),
    ),
    "plant_classes.add": Mended(
        "plant_class",
        lambda scene: scene.press("Winnie", "/varieties/classes", CLASS),
        undo=lambda scene: scene.press(
            "Winnie", f"/varieties/classes/{scene.last('plant_class')}/remove"
        ),
        change=lambda scene: scene.press(
            "Winnie",
            f"/varieties/classes/{scene.last('plant_class')}",
            {"label": "Paniculata", "society": ""},
        ),
    ),
    "plant_classes.take_usual": Mended(
        "plant_class",
        lambda scene: scene.press("Winnie", "/varieties/classes/usual", {"kind": "dahlia"}),
        undo=lambda scene: [
            scene.press("Winnie", f"/varieties/classes/{one}/remove")
            for one in scene.table("plant_class")
        ],
    ),
    "weather.keep_note": Mended(
        "frost_note",
        lambda scene: scene.press(
            "Effie", f"{weather_at(scene)}/note", {"night": "2027-04-06", "minimum_c": "-3"}
        ),
        undo=lambda scene: scene.press(
            "Effie", f"/weather/notes/{scene.last('frost_note')}/remove"
        ),
    ),
    "weather_learned.keep_observed": Mended(
        "observation",
        lambda scene: scene.press(
            "Effie", f"{weather_at(scene)}/observed", {"day": "2027-04-04", "minimum_c": "1.5"}
        ),
        undo=lambda scene: scene.press(
            "Effie", f"/weather/observed/{scene.last('observation')}/remove"
        ),
    ),
    "weather_learned.take_file_in": Mended(
        "daily_file",
        bring_file,
        undo=lambda scene: scene.press(
            "Effie", f"/weather/files/{scene.last('daily_file')}/remove"
        ),
    ),
}
