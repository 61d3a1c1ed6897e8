"""A long act under way: how far it has come, and stopping it."""

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.kernel.tasks import cancel_task, task_of
from exchange.web.frame.session import actor, machine_now
from exchange.words.kernel.tasks import ended_words, kind_words, stage_words

blueprint = Blueprint("tasks", __name__, url_prefix="/tasks")


@blueprint.get("/<int:task_id>")
def show(task_id: int) -> str:
    task = task_of(actor(), task_id)
    return render_template(
        "tasks/show.html",
        task=task,
        under_way=task.under_way,
        name=kind_words(task.kind),
        lead=stage_words(task.state, task.stage) if task.under_way else ended_words(task.state),
        back=_back(task.kind, task.subject_id),
    )


@blueprint.post("/<int:task_id>/stop")
def stop(task_id: int) -> Response:
    cancel_task(actor(), task_id, machine_now())
    return redirect(url_for("tasks.show", task_id=task_id), 303)


def _back(kind: str, subject_id: int | None) -> str:
    """Give the page where the result of a task is looked at."""
    if kind.startswith("share_out") and subject_id is not None:
        return f"/share-out/{subject_id}"
    if kind in {"read_spreadsheet", "bring_in"} and subject_id is not None:
        return f"/read-in/{subject_id}"
    return "/parcels" if kind == "plan" else "/todo"
