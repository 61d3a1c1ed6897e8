"""Papers: slip and care sheet as pages and PDF, pot labels, four lines for a card, a bundle."""

from hashlib import sha256

from flask import (
    Blueprint,
    abort,
    flash,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from werkzeug.wrappers import Response as AnyResponse

from exchange.actions.posting.page_papers import papers_page
from exchange.actions.posting.papers import (
    PAGE_SIZES,
    USUAL_SHEET,
    LabelsWanted,
    NothingToPrintError,
    Papers,
    household_papers,
    papers_of,
    printed,
    printed_labels,
    printed_one,
    without_addresses,
)
from exchange.web.frame.session import actor, house, now
from exchange.web.people.confirm_identity import addresses_open, again_url
from exchange.web.posting.paper_forms import LabelsForm

blueprint = Blueprint("papers", __name__, url_prefix="/papers")


@blueprint.get("")
def mine() -> str:
    household_id = request.args.get("household", type=int)
    page = papers_page(actor(), now(), household_id)
    return render_template(
        "papers/mine.html", page=page, paper=_page_size(), household_id=household_id
    )


@blueprint.get("/all.pdf")
def bundle() -> AnyResponse:
    household_id = request.args.get("household", type=int)
    papers = [one for _entry, one in household_papers(actor(), now(), household_id)]
    if any(one.slip.address for one in papers) and not addresses_open():
        return redirect(again_url(request.full_path), 303)
    try:
        return _pdf(printed(tuple(papers), _page_size()), "papers")
    except NothingToPrintError as refused:
        flash(str(refused), "needs_you")
        return redirect(url_for("papers.mine"), 303)


@blueprint.get("/<int:parcel_id>")
def choose(parcel_id: int) -> str:
    papers = _papers(parcel_id)
    form = LabelsForm(data={"grid": USUAL_SHEET[_page_size()]})
    return render_template(
        "papers/choose.html", papers=papers, parcel_id=parcel_id, form=form, paper=_page_size()
    )


@blueprint.get("/<int:parcel_id>/slip")
def slip(parcel_id: int) -> str:
    papers = _papers(parcel_id)
    shown = papers if addresses_open() else without_addresses(papers)
    hidden = papers.slip.address != shown.slip.address
    again = again_url(request.path) if hidden else ""
    return render_template(
        "papers/slip.html", slip=shown.slip, parcel_id=parcel_id, again_url=again
    )


@blueprint.get("/<int:parcel_id>/care")
def care(parcel_id: int) -> str:
    return render_template(
        "papers/care.html", sheet=_papers(parcel_id).care_sheet, parcel_id=parcel_id
    )


@blueprint.get("/<int:parcel_id>/<any(slip, care, both):kind>.pdf")
def pdf(parcel_id: int, kind: str) -> AnyResponse:
    papers = _papers(parcel_id)
    if kind != "care" and papers.slip.address and not addresses_open():
        return redirect(again_url(request.full_path), 303)
    if kind == "both":
        body = printed((papers,), _page_size())
    else:
        body = printed_one(papers.slip if kind == "slip" else papers.care_sheet, _page_size())
    name = {"slip": "packing slip", "care": "care sheet", "both": "papers"}[kind]
    return _pdf(body, f"{papers.facts.code} {name}")


@blueprint.get("/<int:parcel_id>/labels.pdf")
def labels(parcel_id: int) -> AnyResponse:
    papers = _papers(parcel_id)
    form = LabelsForm(request.args)
    if not form.validate():
        return make_response(
            render_template(
                "papers/choose.html",
                papers=papers,
                parcel_id=parcel_id,
                form=form,
                paper=_page_size(),
            ),
            422,
        )
    wanted = LabelsWanted(
        form.grid.data,
        form.used.data or 0,
        float(form.right_mm.data or 0),
        float(form.down_mm.data or 0),
        bool(form.outline.data),
    )
    try:
        body = printed_labels((papers,), wanted)
    except NothingToPrintError as refused:
        flash(str(refused), "needs_you")
        return redirect(url_for("papers.choose", parcel_id=parcel_id), 303)
    return _pdf(body, f"{papers.facts.code} labels")


def _papers(parcel_id: int) -> Papers:
    try:
        return papers_of(actor(), parcel_id, now())
    except NothingToPrintError:
        abort(404)


def _page_size() -> str:
    wanted = request.args.get("paper", house().paper).lower()
    return wanted if wanted in PAGE_SIZES else PAGE_SIZES[0]


def _pdf(body: bytes, name: str) -> AnyResponse:
    """Give a file to be shown or kept, with a name in plain letters and an ETag."""
    answer = make_response(body)
    answer.mimetype = "application/pdf"
    plain = "-".join(name.lower().split())
    answer.headers["Content-Disposition"] = f'inline; filename="{plain}.pdf"'
    answer.headers["Cache-Control"] = "private, no-cache"
    answer.set_etag(sha256(body).hexdigest())
    return answer.make_conditional(request)
