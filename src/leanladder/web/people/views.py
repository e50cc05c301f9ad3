"""Pages of people."""

from __future__ import annotations

from django.contrib.auth import login, logout, update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_http_methods, require_POST

from leanladder.records import people
from leanladder.records.models import Group, Person
from leanladder.web.access import coach_or_head, head_only, public
from leanladder.web.faults import refused
from leanladder.web.frame import language_of
from leanladder.web.mine import person_of
from leanladder.web.people import throttle
from leanladder.web.people.first import at_the_laptop, may_begin
from leanladder.web.people.forms import (
    CoachForm,
    FirstForm,
    OwnForm,
    PasswordForm,
    SignInForm,
    said,
)


@public
@require_http_methods(["GET", "POST"])
def first(request: HttpRequest) -> HttpResponse:
    """Make the first head instructor, on the laptop itself or with the code that it printed."""
    if people.any_people():
        return redirect("login")
    if not may_begin(request):
        return refused(request)
    form = FirstForm(request.POST or None, language=language_of(request))
    if request.method == "POST" and form.is_valid():
        person = people.add_head(form.cleaned_data["username"], form.cleaned_data["password"])
        login(request, person, backend="django.contrib.auth.backends.ModelBackend")
        return redirect("home")
    return render(request, "people/first.html", {"form": form, "code": request.GET.get("code", "")})


@public
@require_http_methods(["GET", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Sign someone in."""
    if not people.any_people():
        return redirect("first")
    language = language_of(request)
    form = SignInForm(request.POST or None, language=language)
    if request.method == "POST" and form.is_valid():
        keys = _keys(request, form.cleaned_data["username"])
        if throttle.blocked(*keys):
            form.add_error(None, said("people.wait", language))
            return render(request, "people/login.html", {"form": form}, status=429)
        throttle.wrong(*keys)  # until it turns out right: many at once are no more than one after the other
        person = form.person()
        if person is not None:
            throttle.right(*keys)
            login(request, person)
            return redirect(_next(request))
        form.add_error(None, said("people.wrong", language))
    return render(request, "people/login.html", {"form": form, "next": request.GET.get("next", "")})


def _keys(request: HttpRequest, name: str) -> tuple[str, str]:
    """What guesses are counted by; at the laptop itself others' guesses at a name keep nobody out."""
    where = "here" if at_the_laptop(request) else "there"
    return f"from {request.META.get('REMOTE_ADDR', '')}", f"name {where} {name.lower()}"


def _next(request: HttpRequest) -> str:
    wanted = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(wanted, allowed_hosts={request.get_host()})
    return wanted if ours and wanted.startswith("/") else "home"


@coach_or_head
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Sign someone out."""
    logout(request)
    return redirect("login")


@head_only
@require_http_methods(["GET", "POST"])
def everyone(request: HttpRequest) -> HttpResponse:
    """List who may sign in, and add someone."""
    form = CoachForm(request.POST or None, language=language_of(request))
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        people.add_person(
            data["username"], data["password"], data["role"], data["coach_name"], by=person_of(request)
        )
        return redirect("people")
    context = {
        "form": form,
        "people": Person.objects.order_by("username"),
        "named": {name for group in Group.objects.all() for name in group.coaches},
    }
    return render(request, "people/people.html", context)


@head_only
@require_POST
def remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Take someone's account away; never one's own."""
    person = get_object_or_404(Person, pk=pk)
    if person.pk != request.user.pk:
        people.remove_person(person, by=person_of(request))
    return redirect("people")


@coach_or_head
@require_http_methods(["GET", "POST"])
def own(request: HttpRequest) -> HttpResponse:
    """Someone's own language and units."""
    person = person_of(request)
    given = {"language_of": person.language, "units": person.units}
    form = OwnForm(request.POST or None, initial=given, language=language_of(request))
    if request.method == "POST" and form.is_valid():
        people.change_own(person, form.cleaned_data["language_of"], form.cleaned_data["units"])
        return redirect(f"{reverse('own')}?kept=1")
    other = PasswordForm(person=person, language=language_of(request))
    context = {"form": form, "other": other, "kept": request.GET.get("kept", "")}
    return render(request, "people/own.html", context)


@coach_or_head
@require_POST
def own_password(request: HttpRequest) -> HttpResponse:
    """Change someone's own password: they stay signed in here, and nowhere else."""
    person, language = person_of(request), language_of(request)
    form = PasswordForm(request.POST, person=person, language=language)
    keys = _keys(request, person.username)
    if throttle.blocked(*keys):
        form.add_error(None, said("people.wait", language))
    else:
        throttle.wrong(*keys)  # until it turns out right, as when signing in
        is_valid = form.is_valid()
        if "password_own" not in form.errors:
            throttle.right(*keys)
        if is_valid:
            people.change_password(person, form.cleaned_data["password"], by=person)
            update_session_auth_hash(request, person)
            return redirect(f"{reverse('own')}?kept=password")
    given = {"language_of": person.language, "units": person.units}
    return render(
        request, "people/own.html", {"form": OwnForm(initial=given, language=language), "other": form}
    )
