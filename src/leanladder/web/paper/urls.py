"""Addresses of a day's papers."""

from django.urls import URLPattern, path, register_converter

from leanladder.web.paper import views


class NameConverter:
    """The name of a set of papers: its kind and part of a digest."""

    regex = "(?:evening|today)-[0-9a-f]{24}"

    def to_python(self, value: str) -> str:
        """Return the name."""
        return value

    def to_url(self, value: str) -> str:
        """Return the name as it stands in an address."""
        return value


register_converter(NameConverter, "papers")

urlpatterns: list[URLPattern] = [
    path("days/<int:pk>/paper/", views.paper, name="paper"),
    path("days/<int:pk>/paper/make/<str:kind>/", views.make, name="paper_make"),
    path("days/<int:pk>/paper/<papers:name>/all.zip", views.whole, name="paper_zip"),
    path("days/<int:pk>/paper/<papers:name>/<path:path>", views.one, name="paper_one"),
]
