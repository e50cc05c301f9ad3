"""GPX as a stream of elements; no document type, no entities, no more than the limits."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from xml.sax import SAXParseException
from xml.sax.handler import ContentHandler

from defusedxml import sax
from defusedxml.common import DefusedXmlException

from leanladder.domain.circuit import Outline
from leanladder.domain.errors import Fault, InputError
from leanladder.importers.figures import HIGHEST_M, Place, number, position, within
from leanladder.importers.lines import FoundLine, one_line
from leanladder.importers.outlines import outline_of
from leanladder.importers.source import check_count, pieces

LINES = {"trk": "track", "rte": "route"}
POINTS = ("trkpt", "rtept")


def read(path: Path) -> Outline:
    """Return the longest track or route of a GPX file, a track's segments joined in their order.

    Raises InputError for anything else, and for any document type declaration.
    """
    handler = _Handler(path)
    parser = sax.make_parser()
    parser.forbid_dtd = True
    parser.setContentHandler(handler)
    handler.setDocumentLocator(parser)  # fed in pieces, it does not do so itself
    try:
        for piece in pieces(path):
            parser.feed(piece)
        parser.close()
    except DefusedXmlException:
        remedy = "A GPX file needs none: export it again, or delete the declaration."
        fault = Fault(str(path), handler.line(), None, "<!DOCTYPE", "no document type", remedy)
        raise InputError("the file declares a document type, which is refused.", fault) from None
    except SAXParseException as error:
        fault = Fault(str(path), error.getLineNumber(), remedy="Export the circuit again.")
        raise InputError(f"this is not well-formed XML: {error.getMessage()}.", fault) from None
    except (LookupError, ValueError) as error:
        fault = Fault(str(path), remedy="Save the file in UTF-8.")
        raise InputError(f"the file cannot be read as XML: {error}.", fault) from None
    return handler.outline()


class _Handler(ContentHandler):
    """Collects tracks and routes as the parser meets them."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.path = path
        self.locator: Any = None
        self.open: list[str] = []
        self.lines: list[FoundLine] = []
        self.waypoints = 0
        self.count = 0
        self.name = ""
        self.text: list[str] | None = None

    def setDocumentLocator(self, locator: Any) -> None:  # noqa: ANN401, N802 (the base's name)
        """Keep the parser's place in the file."""
        self.locator = locator

    def line(self) -> int | None:
        """Return the line that the parser stands at."""
        return None if self.locator is None else self.locator.getLineNumber()

    def startElement(self, name: str, attrs: Any) -> None:  # noqa: ANN401, N802 (the base's name)
        """Open a line, a point or a text."""
        element = _local(name)
        if not self.open and element != "gpx":
            raise Place(self.path, self.line()).error(
                "this is no GPX file.", f"<{element}>", "<gpx>", "Export the circuit as GPX."
            )
        self.open.append(element)
        if element in LINES:
            self.lines.append(FoundLine(LINES[element]))
            check_count(self.path, len(self.lines), self.line())
        elif element in POINTS and self.lines:
            self._point(attrs)
        elif element == "wpt":
            self.waypoints += 1
        elif element in {"name", "ele"}:
            self.text = []

    def characters(self, content: str) -> None:
        """Keep the text of a name or a height."""
        if self.text is not None:
            self.text.append(content)

    def endElement(self, name: str) -> None:  # noqa: N802 (the base's name)
        """Use the text of a name or a height."""
        element = self.open.pop()
        if self.text is None or element != _local(name) or element not in {"name", "ele"}:
            return
        text, self.text = "".join(self.text).strip(), None
        parent = self.open[-1] if self.open else ""
        if element == "ele" and parent in POINTS and self.lines:
            place = Place(self.path, self.line(), "ele")
            self.lines[-1].heights[-1] = within(place, number(place, text), -HIGHEST_M, HIGHEST_M, "m")
        elif element == "name" and parent in LINES:
            self.lines[-1].name = one_line(text)
        elif element == "name" and parent in {"metadata", "gpx"}:
            self.name = one_line(text)

    def _point(self, attrs: Any) -> None:  # noqa: ANN401 (the parser's attributes)
        place = Place(self.path, self.line())
        self.lines[-1].points.append(position(place, attrs.get("lat", ""), attrs.get("lon", "")))
        self.lines[-1].heights.append(None)
        self.count += 1
        check_count(self.path, self.count, place.line)

    def outline(self) -> Outline:
        """Return the longest line; raises InputError if there is none."""
        found = [line for line in self.lines if line.points]
        if found:
            return outline_of(self.path, found, self.name)
        place = Place(self.path, field="trk, rte")
        if self.waypoints:
            message = "the file holds only waypoints, no track or route."
            remedy = "Record or draw a track along the lap and export that."
            raise place.error(message, f"{self.waypoints} waypoints", "a track or a route", remedy)
        remedy = "Record or draw a track along the lap and export that."
        raise place.error("the file holds no points.", None, "a track or a route", remedy)


def _local(name: str) -> str:
    """Return an element's name without its prefix."""
    return name.rpartition(":")[2]
