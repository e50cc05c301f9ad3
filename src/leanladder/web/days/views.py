"""A day's own page, its head, its coming and going."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from leanladder import catalogue
from leanladder.domain.errors import Fault, InputError
from leanladder.planning.documents import plain_name
from leanladder.records import circuits, days
from leanladder.records.checking import file_name
from leanladder.records.history import changes_of
from leanladder.records.models import Day
from leanladder.web import plans
from leanladder.web.access import coach_or_head, head_only
from leanladder.web.days.fields import clock, number, stated, typed
from leanladder.web.days.ladders import Without, without_number
from leanladder.web.days.looked import Looked, look_at, unfit_machines
from leanladder.web.days.page import address, day_page, head_of, units_of
from leanladder.web.days.steps import fault_of, steps_of
from leanladder.web.days.weather import row_of
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of, runs_for
from leanladder.web.paper import kept
from leanladder.web.typed import whole_number

LARGEST_IMPORT = 20_000_000
MOST_CHANGES = 20
# What a new day begins with; the weather's first and last hour.
FIRST_HOUR, LAST_HOUR = "09:00", "16:00"
HEAD_FIELDS = ("date", "school", "head", "surface", "circuit", "latitude_deg", "longitude_deg", "altitude_m")
NEW_FIELDS = ("circuit", "first_air", "first_humidity", "last_air", "last_humidity")
_PLACE = {"latitude_deg": "deg", "longitude_deg": "deg", "altitude_m": "m"}


@coach_or_head
@require_GET
def one(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a day: what to do next, who goes out when on what, the weather, tyres that stay in."""
    person, language = person_of(request), language_of(request)
    looked = look_at(pk)
    day = days.day(pk)
    mine = [each for each in days.groups(pk) if person.is_head or person.coach_name in each.coaches]
    names = {each.name for each in mine}
    places = days.places(pk)
    progress = None if looked.day is None else plans.progress(pk)
    hours = [row_of(entry, units_of(request)) for entry in day.weather]
    more = {
        "steps": steps_of(pk, looked) if person.is_head else [],
        "fault": fault_of(pk, looked) if person.is_head else None,
        "not_whole": looked.fault is not None,
        "groups": [(each, [_out(place) for place in places if place.group_id == each.pk]) for each in mine],
        "runs": [run for run in days.runs(pk) if run.group.name in names],
        "hours": hours,
        "stated": {key for row in hours for key, value in row.items() if value},
        "unfit": () if looked.day is None else unfit_machines(looked.day, language),
        "progress": progress,
        "without": _without(request, pk) if progress is not None and progress.state == "done" else None,
        "nowhere": _nowhere(looked),
        "changes": changes_of("day", pk)[:MOST_CHANGES] if person.is_head else (),
        "live": address("live", pk),
        "briefing": address("briefing", pk),
    }
    return day_page(request, pk, "days/day.html", more)


def _without(request: HttpRequest, pk: int) -> Without | None:
    """Who of those that someone may see has no number, where the ladders are worked out."""
    found = plans.worked(pk)
    if found is None:
        return None
    mine = {run.name for run in runs_for(person_of(request), found.day)}
    return without_number([each for each in found.entries if each.session.name in mine], language_of(request))


def _nowhere(looked: Looked) -> bool:
    """Whether neither day nor circuit says where on the globe it is: no track can be computed then."""
    known = [each for each in (looked.day, looked.circuit) if each is not None]
    return all(each.latitude_deg is None for each in known)


def _out(place: Any) -> dict[str, str]:  # noqa: ANN401  # a row of the records
    written = place.rider.written
    return {
        "rider": place.rider.name,
        "machine": str(written.get("machine", "")) if place.machine is None else place.machine.name,
        "level": place.level or str(written.get("level", "")),
    }


@head_only
@require_http_methods(["GET", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Make a day from as little as it takes: date, school, circuit, the air at two times."""
    known = circuits.circuits()
    last = next(iter(days.days()), None)
    form = {
        "date": timezone.localdate().isoformat(),
        "school": "" if last is None else last.school,
        "head": "" if last is None else last.head,
        "first_at": FIRST_HOUR,
        "last_at": LAST_HOUR,
    }
    if request.method != "POST":
        return render(request, "days/new.html", _new(request, form, known))
    form = {name: request.POST.get(name, "").strip() for name in (*form, *NEW_FIELDS)}
    try:
        day = days.save_day(_written_new(form, units_of(request)), _circuit_pk(form), person_of(request))
    except InputError as fault:
        return render(request, "days/new.html", {**_new(request, form, known), "fault": fault}, status=400)
    return redirect("day", day.pk)


def _new(request: HttpRequest, form: dict[str, str], known: list[Any]) -> dict[str, Any]:
    degrees = "°F" if units_of(request) == "imperial" else "°C"
    add = address("circuit_new")
    return {"typed": form, "circuits": known, "degrees": degrees, "circuit_new": add}


def _written_new(form: dict[str, str], units: str) -> dict[str, Any]:
    weather = []
    for end in ("first", "last"):
        air_c = number(form[f"{end}_air"], f"{end}_air", "degC", units)
        humidity_pct = number(form[f"{end}_humidity"], f"{end}_humidity", "%", units)
        if air_c is not None:
            hour = {"at": clock(form[f"{end}_at"]), "air_c": air_c, "humidity_pct": humidity_pct}
            weather.append(stated(hour))
    return {**stated({name: form[name] for name in ("date", "school", "head")}), "weather": weather}


def _circuit_pk(form: dict[str, str]) -> int:
    key = whole_number(form.get("circuit"))
    if key is None:
        raise InputError(
            "no circuit is chosen.", Fault(field="circuit", remedy="Choose one, or add one first.")
        )
    return key


@head_only
@require_http_methods(["GET", "POST"])
def head(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a day's head, and keep it: date, school, head instructor, circuit, surface, place."""
    day, units = days.day(pk), units_of(request)
    known = head_of(day)
    form = {name: str(known.get(name, "")) for name in HEAD_FIELDS}
    form |= {name: typed(known.get(name), unit, units) for name, unit in _PLACE.items()}
    form["circuit"] = str(day.circuit_id)
    fault = None
    if request.method == "POST":
        form = {name: request.POST.get(name, "").strip() for name in HEAD_FIELDS}
        try:
            days.save_day({**known, **_head(form, units)}, _circuit_pk(form), person_of(request), day_pk=pk)
        except InputError as error:
            fault = error
        else:
            return redirect("day", pk)
    more = {
        "typed": form, "fault": fault, "circuits": circuits.circuits(), "surfaces": catalogue.surface_names(),
        "metres": "ft" if units == "imperial" else "m",
    }  # fmt: skip
    return day_page(request, pk, "days/head.html", more, status=400 if fault else 200)


def _head(form: dict[str, str], units: str) -> dict[str, Any]:
    place = {name: number(form[name], name, unit, units) for name, unit in _PLACE.items()}
    return {**{name: form[name] for name in ("date", "school", "head", "surface")}, **place}


@head_only
@require_POST
def demo(request: HttpRequest) -> HttpResponse:
    """Put the example day on record, with its circuit, machines and riders, and go there."""
    return redirect("day", days.demo_day(person_of(request)).pk)


@head_only
@require_POST
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a day out of which nothing was given."""
    days.remove_day(pk, person_of(request))
    kept.forget(pk)
    return redirect("home")


@head_only
@require_GET
def export(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001  # a view
    """Give a day as a zip of its file and what belongs to it."""
    day = days.day(pk)
    answer = HttpResponse(days.export_day(pk), content_type="application/zip")
    name = f"{day.date.isoformat()}-{plain_name(day.school)}.zip"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


@head_only
@require_http_methods(["GET", "POST"])
def take_in(request: HttpRequest) -> HttpResponse:
    """Take a day in from a zip, or from its file with those that it names."""
    fault = None
    if request.method == "POST":
        try:
            return redirect("day", _taken_in(request).pk)
        except InputError as error:
            fault = error
    return render(request, "days/import.html", {"fault": fault}, status=400 if fault else 200)


def _taken_in(request: HttpRequest) -> Day:
    uploads = [each for each in request.FILES.getlist("files") if each.name]
    if not uploads:
        raise InputError(
            "no file is chosen.", Fault(field="files", remedy="Choose a zip, or day.toml and its files.")
        )
    if sum(each.size or 0 for each in uploads) > LARGEST_IMPORT:
        allowed = f"{LARGEST_IMPORT // 1_000_000} MB in all"
        raise InputError("these files are too large.", Fault(field="files", allowed=allowed))
    replace = request.POST.get("replace") == "on"
    with tempfile.TemporaryDirectory() as folder:
        return days.import_day(_kept(uploads, Path(folder)), person_of(request), replace=replace)


def _kept(uploads: list[UploadedFile[Any]], folder: Path) -> Path:
    """Put uploads where they are read once: one zip, or a day's file with others where it names them."""
    if len(uploads) == 1 and str(uploads[0].name).lower().endswith(".zip"):
        path = folder / "day.zip"
        path.write_bytes(uploads[0].read())
        return path
    for upload in uploads:
        content = upload.read()
        name = Path(str(upload.name).replace("\\", "/")).name
        for place in (folder, folder / "tyres", folder / "machines"):
            place.mkdir(exist_ok=True)
            (place / (name if _plain(name) else file_name(name))).write_bytes(content)
    found = _day_file(folder, [str(each.name) for each in uploads])
    if found is None:
        raise InputError("no day's file is among them.", Fault(field="files", remedy="Choose day.toml too."))
    return found


def _plain(name: str) -> bool:
    return all(sign.isalnum() or sign in " ._-()" for sign in name) and not name.startswith(".")


def _day_file(folder: Path, names: list[str]) -> Path | None:
    """The day's file among some: that of the usual name, else the one that says it is one."""
    if (folder / "day.toml").exists():
        return folder / "day.toml"
    for path in sorted(folder.glob("*.toml")):
        if b'"day/1"' in path.read_bytes()[:4096] and path.name in {Path(name).name for name in names}:
            return path.rename(folder / "day.toml")
    return None


@coach_or_head
@require_GET
def ladders_ask(request: HttpRequest, pk: int) -> HttpResponse:
    """Show how far the day's ladders are: a part of the day's page that asks again by itself."""
    looked = look_at(pk)
    progress = None if looked.day is None else plans.progress(pk)
    return render(request, "days/progress.html", {"day": days.day(pk), "progress": progress})
