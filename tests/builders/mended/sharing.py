"""Spares, claims, share-outs: how what is entered is mended."""

import re

from exchange.actions.sharing.share_out import (
    NewShareOut,
    confirm_share_out,
    open_share_out,
    work_out_share_out,
)
from exchange.actions.sharing.spares import list_spare
from exchange.domain.optimise.programme import never_stop
from tests.app_fixtures import NOW
from tests.builders.edits import version_in
from tests.builders.mended.scene import Mended, Scene
from tests.builders.offers import a_claim, a_spare, a_variety, new_spare

SHARED = {"name": "Spring", "closes_on": "2027-04-11"}


def spare(scene: Scene, **more: object) -> dict[str, object]:
    usual = {
        "name": "Tin Kettle",
        "kind": "dahlia",
        "count": "3",
        "material": "rooted",
        "raised": "cool",
        "ready_from": "2027-04-05",
        "send_by": "2027-05-17",
        "may_go": "y",
        "place": str(scene.ring.place("Cuthbert").id),
    }
    return {**usual, **more}


def the_spare(scene: Scene) -> str:
    return f"/spares/{scene.last('spare')}"


def withdraw(scene: Scene) -> None:
    scene.press("Cuthbert", f"{the_spare(scene)}/withdraw")


def correct(scene: Scene, who: str = "Cuthbert", **more: object) -> None:
    version = version_in(scene.visitor("Cuthbert").get(f"{the_spare(scene)}/change"))
    scene.press(who, f"{the_spare(scene)}/change", spare(scene, version=version, **more))


def correct_for_them(scene: Scene) -> None:
    scene.press("Winnie", f"/act-for/{scene.ring['Cuthbert'].id}")
    correct(scene, "Winnie", name="Copper Pan")


def set_aside(scene: Scene) -> None:
    a_spare(scene.ring, "Cuthbert", a_variety(scene.ring, "Tin Kettle"))
    correct(scene, set_aside_for=str(scene.ring["Effie"].household_id))


def list_again(scene: Scene) -> None:
    set_aside(scene)
    withdraw(scene)
    scene.press("Cuthbert", f"{the_spare(scene)}/put-back")


def box(scene: Scene) -> None:
    a_variety(scene.ring, "Sure Kettle")
    days = {"ready_from": "2027-04-05", "send_by": "2027-05-17"}
    read = scene.press(
        "Cuthbert",
        "/spares/box",
        {"lines": "3 rooted Sure Kettle", "raised": "in_heat", "material": "", **days},
    ).text
    form = read[read.index('action="/spares/box/list"') :]
    form = form[: form.index("</form>")]
    sent = dict(re.findall(r'<input[^>]*name="([^"]+)"[^>]*value="([^"]*)"', form))
    for name, inside in re.findall(
        r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', form, re.DOTALL
    ):
        chosen = re.search(r'<option selected value="([^"]*)"', inside)
        sent[name] = chosen.group(1) if chosen else ""
    sent.pop("csrf_token", None)
    scene.press("Cuthbert", "/spares/box/list", sent)


def undo_box(scene: Scene) -> None:
    page = scene.read("Cuthbert", "/spares?mine=yes")
    undo = re.search(r'action="(/spares/box/undo/[^"]+)"', page)
    assert undo
    scene.press("Cuthbert", undo.group(1))


def ask_for_one(scene: Scene) -> None:
    scene.press("Effie", "/claims/one", {"variety": str(a_variety(scene.ring))})


def ask_with_a_wish(scene: Scene) -> None:
    path = f"/claims/for/{a_variety(scene.ring)}"
    scene.press("Effie", path, wish(scene))


def wish(scene: Scene, asked: str = "2") -> dict[str, object]:
    place = str(scene.ring.place("Effie").id)
    return {"asked": asked, "choice": "1", "materials": ["rooted"], "place": place}


def ask_for_more(scene: Scene) -> None:
    claimed = scene.table("claim")[scene.last("claim")]
    scene.press("Effie", f"/claims/for/{claimed['variety_id']}", wish(scene, "3"))


def take_claim_back(scene: Scene, who: str = "Winnie") -> None:
    scene.press(who, f"/claims/{scene.last('claim')}/withdraw")


def worked_out(scene: Scene) -> int:
    variety_id = a_variety(scene.ring)
    a_spare(scene.ring, "Cuthbert", variety_id)
    a_claim(scene.ring, "Effie", variety_id)
    winnie = scene.ring.actor("Winnie")
    share_out_id = open_share_out(winnie, NewShareOut("Spring", NOW.date(), "4711"), NOW)
    work_out_share_out(winnie, share_out_id, never_stop, NOW)
    return share_out_id


def confirm(scene: Scene) -> None:
    path = f"/share-out/{worked_out(scene)}/confirm"
    scene.said = scene.read("Winnie", path)
    scene.press("Winnie", path)


def leave_some(scene: Scene) -> None:
    confirm_share_out(scene.ring.actor("Winnie"), worked_out(scene), NOW)
    scene.more = scene.last("spare")


def take_left_over(scene: Scene) -> None:
    scene.press("Winnie", f"/spares/left-over/{scene.more}")


def decline(scene: Scene) -> None:
    scene.press("Winnie", f"/claims/given/{scene.last('allocation')}/decline")


def cancel(scene: Scene) -> None:
    scene.press("Winnie", f"/share-out/{scene.last('share_out')}/cancel")


def share_out_today(scene: Scene) -> None:
    variety_id = a_variety(scene.ring)
    list_spare(scene.ring.actor("Cuthbert"), new_spare(variety_id), NOW)
    a_claim(scene.ring, "Effie", variety_id)
    scene.press("Winnie", "/share-out/today")


SHARING = {
    "claims.one": Mended("claim", ask_for_one, undo=take_claim_back, change=ask_for_more),
    "claims.keep": Mended("claim", ask_with_a_wish, undo=take_claim_back, change=ask_for_more),
    "claims.withdraw": Mended(
        "claim",
        lambda scene: take_claim_back(scene, "Effie"),
        undo=lambda scene: scene.press("Effie", f"/claims/{scene.last('claim')}/put-back"),
        prepare=ask_for_one,
    ),
    "spares.list_new": Mended(
        "spare",
        lambda scene: scene.press("Cuthbert", "/spares/new", spare(scene)),
        undo=withdraw,
        change=correct_for_them,
    ),
    "spares.keep_change": Mended(
        "allocation", set_aside, undo=lambda scene: correct(scene, set_aside_for="")
    ),
    "spares.list_again": Mended("allocation", list_again, undo=withdraw),
    "spares_box.keep": Mended("spare", box, undo=undo_box),
    "share_out.open_one": Mended(
        "share_out",
        lambda scene: scene.press("Winnie", "/share-out", SHARED),
        undo=cancel,
        change=lambda scene: scene.press(
            "Winnie",
            f"/share-out/{scene.last('share_out')}/change",
            SHARED | {"closes_on": "2027-04-18"},
        ),
    ),
    "share_out.today": Mended("share_out", share_out_today, undo=cancel),
    "share_out_changes.confirm": Mended(
        "allocation", confirm, sentence="It cannot be taken back. What changes afterwards"
    ),
    "left_overs.take": Mended("allocation", take_left_over, undo=decline, prepare=leave_some),
}
