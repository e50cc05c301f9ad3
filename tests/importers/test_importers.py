"""Circuit files of each format, and every way in which one can be no circuit file."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from leanladder import importers
from leanladder.domain.errors import InputError
from leanladder.importers import formats, read_outline
from leanladder.importers.source import MOST_POINTS

XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
RING = [(52.0, -1.0), (52.002, -1.0), (52.002, -0.997), (52.0, -0.997), (52.0, -1.0)]


def write(folder: Path, name: str, content: str | bytes) -> Path:
    path = folder / name
    path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)
    return path


def gpx(points: list[tuple[float, float]], kind: str = "trk", version: str = "1.1", ele: str = "") -> str:
    point = {"trk": "trkpt", "rte": "rtept"}[kind]
    rows = "".join(f'<{point} lat="{lat}" lon="{lon}">{ele}</{point}>' for lat, lon in points)
    inner = f"<trkseg>{rows}</trkseg>" if kind == "trk" else rows
    space = f"http://www.topografix.com/GPX/{version.replace('.', '/')}"
    body = f"<{kind}><name>Lap</name>{inner}</{kind}>"
    return f'{XML}<gpx version="{version}" creator="test" xmlns="{space}">{body}</gpx>'


def geojson(geometry: str, extra: str = "") -> str:
    feature = f'{{"type": "Feature", "properties": {{"Name": "Lap"}}, "geometry": {geometry}}}'
    return f'{{"type": "FeatureCollection"{extra}, "features": [{feature}]}}'


POSITIONS = "[" + ", ".join(f"[{lon}, {lat}]" for lat, lon in RING) + "]"
LINE = f'{{"type": "LineString", "coordinates": {POSITIONS}}}'


def fault_of(path: Path) -> InputError:
    """Return the error of a file, having checked that it says where and what to do."""
    with pytest.raises(InputError) as caught:
        read_outline(path)
    assert caught.value.exit_code == 2
    assert caught.value.fault.file == str(path)
    assert caught.value.message
    return caught.value


def test_the_formats_are_found_by_walking_the_package() -> None:
    assert {form.NAME for form in formats()} == {"GPX", "GeoJSON", "CSV"}
    folders = {item.name for item in Path(importers.__file__).parent.iterdir() if item.is_dir()}
    assert {"gpx", "geojson", "table"} <= folders


@pytest.mark.parametrize("version", ["1.0", "1.1"])
@pytest.mark.parametrize("kind", ["trk", "rte"])
def test_gpx_track_and_route(tmp_path: Path, kind: str, version: str) -> None:
    outline = read_outline(write(tmp_path, "lap.gpx", gpx(RING, kind, version)))
    assert (outline.frame, outline.name) == ("degrees", "Lap")
    np.testing.assert_array_equal(outline.points, RING)
    assert outline.elevation_m is None


def test_gpx_heights_count_only_when_every_point_has_one(tmp_path: Path) -> None:
    full = read_outline(write(tmp_path, "a.gpx", gpx(RING, ele="<ele>31.5</ele>")))
    assert full.elevation_m is not None
    np.testing.assert_array_equal(full.elevation_m, 31.5)
    some = gpx(RING).replace("></trkpt>", "><ele>31.5</ele></trkpt>", 1)
    assert read_outline(write(tmp_path, "b.gpx", some)).elevation_m is None


def test_gpx_segments_are_joined_and_empty_ones_do_no_harm(tmp_path: Path) -> None:
    text = gpx(RING).replace("<trkseg>", "<trkseg/><trkseg>", 1)
    text = text.replace(
        '<trkpt lat="52.002" lon="-0.997">', '</trkseg><trkseg><trkpt lat="52.002" lon="-0.997">'
    )
    np.testing.assert_array_equal(read_outline(write(tmp_path, "lap.gpx", text)).points, RING)


def test_gpx_prefix_and_utf16_are_read(tmp_path: Path) -> None:
    prefixed = gpx(RING).replace("xmlns=", "xmlns:g=")
    for tag in ("gpx", "trk", "trkseg", "trkpt", "name"):
        prefixed = prefixed.replace(f"<{tag}", f"<g:{tag}").replace(f"</{tag}", f"</g:{tag}")
    prefixed = prefixed.replace("<g:trkseg", "<g:trkseg")
    assert len(read_outline(write(tmp_path, "a.gpx", prefixed)).points) == 5
    wide = gpx(RING).replace("UTF-8", "UTF-16").encode("utf-16")
    assert len(read_outline(write(tmp_path, "b.gpx", wide)).points) == 5


def test_the_longest_track_is_used_and_said(tmp_path: Path) -> None:
    short = gpx(RING[:2]).split("<trk>")[1].split("</trk>")[0]
    text = gpx(RING).replace("<trk>", f"<trk>{short}</trk><trk>", 1)
    outline = read_outline(write(tmp_path, "lap.gpx", text))
    assert len(outline.points) == 5
    assert "2 lines" in outline.remarks[0]


def test_gpx_of_the_shared_data_with_an_empty_segment(shared_data: Path) -> None:
    # gpxpy test suite (Apache-2.0): several tracks, one with an empty segment.
    outline = read_outline(shared_data / "gpx" / "korita-zbevnica.gpx")
    assert len(outline.points) > 300
    assert outline.elevation_m is not None
    assert outline.remarks


def test_gpx_against_the_gpxpy_library(shared_data: Path) -> None:
    gpxpy = pytest.importorskip("gpxpy")
    path = shared_data / "gpx" / "korita-zbevnica.gpx"
    with path.open(encoding="utf-8") as file:
        tracks = gpxpy.parse(file).tracks
    longest = max(tracks, key=lambda track: track.length_2d())
    expected = [(p.latitude, p.longitude) for seg in longest.segments for p in seg.points]
    np.testing.assert_allclose(read_outline(path).points, expected, atol=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        geojson(LINE),
        LINE,
        f'{{"type": "Feature", "properties": null, "geometry": {LINE}}}',
        geojson(f'{{"type": "Polygon", "coordinates": [{POSITIONS}, [[0,0],[0,1],[1,1],[0,0]]]}}'),
        geojson(f'{{"type": "MultiPolygon", "coordinates": [[{POSITIONS}]]}}'),
        geojson(f'{{"type": "MultiLineString", "coordinates": [{POSITIONS}]}}'),
        geojson(f'{{"type": "GeometryCollection", "geometries": [{LINE}]}}'),
    ],
)
def test_geojson_geometries(tmp_path: Path, text: str) -> None:
    outline = read_outline(write(tmp_path, "lap.geojson", text))
    assert outline.frame == "degrees"
    np.testing.assert_array_equal(outline.points, RING)


def test_geojson_parts_that_meet_are_joined(tmp_path: Path) -> None:
    first, rest = RING[:3], RING[2:]
    parts = [[[lon, lat] for lat, lon in part] for part in (first, rest)]
    text = geojson(f'{{"type": "MultiLineString", "coordinates": {parts}}}')
    outline = read_outline(write(tmp_path, "lap.geojson", text))
    assert outline.points[0].tolist() == list(RING[0])
    assert outline.points[-1].tolist() == list(RING[-1])
    assert outline.remarks == ()


def test_geojson_heights_and_name(tmp_path: Path) -> None:
    positions = [[lon, lat, 12.0] for lat, lon in RING]
    text = geojson(f'{{"type": "LineString", "coordinates": {positions}}}')
    outline = read_outline(write(tmp_path, "lap.json", text))
    assert outline.name == "Lap"
    assert outline.elevation_m is not None


@pytest.mark.parametrize(
    ("text", "frame", "extras"),
    [
        ("x_m,y_m\n0,0\n300,0\n300,200\n", "metres", ""),
        ("# x_m,y_m,w_tr_right_m,w_tr_left_m\n0,0,5,6\n300,0,5,6\n300,200,5,6\n", "metres", "w"),
        ("0,0\n300,0\n300,200\n", "metres", ""),
        ("0;0;5;6\n300;0;5;6\n300;200;5;6\n", "metres", "w"),
        ("x_m;y_m\n0,0;0,0\n300,0;0,0\n300,0;200,0\n", "metres", ""),
        ("lat\tlon\televation_m\n52.0\t-1.0\t3\n52.002\t-1.0\t4\n52.0\t-0.99\t5\n", "degrees", "e"),
        ("\ufefflongitude,latitude\r\n-1.0,52.0\r\n-1.0,52.002\r\n-0.99,52.0\r\n", "degrees", ""),
        ("# drawn by hand, in 2024\nx_m,y_m\n0,0\n300,0\n300,200", "metres", ""),
        ('"x_m","y_m"\n"0","0"\n"300","0"\n"300","200"\n', "metres", ""),
    ],
)
def test_tables(tmp_path: Path, text: str, frame: str, extras: str) -> None:
    outline = read_outline(write(tmp_path, "lap.csv", text))
    assert outline.frame == frame
    assert len(outline.points) == 3
    assert (outline.width_m is not None) == ("w" in extras)
    assert (outline.elevation_m is not None) == ("e" in extras)
    expected = [300.0, 0.0] if frame == "metres" else [52.002, -1.0]
    assert outline.points[1].tolist() == expected


def test_content_counts_more_than_the_suffix(tmp_path: Path) -> None:
    assert len(read_outline(write(tmp_path, "lap.csv", gpx(RING))).points) == 5
    assert len(read_outline(write(tmp_path, "lap.txt", geojson(LINE))).points) == 5


# ---- what cannot be used -------------------------------------------------------------------------


def test_missing_names_the_nearest(tmp_path: Path) -> None:
    write(tmp_path, "circuit.csv", "x_m,y_m\n")
    error = fault_of(tmp_path / "circiut.csv")
    assert "circuit.csv" in (error.fault.remedy or "")


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("a.gpx", b"", "empty"),
        ("a.csv", b" \n\n", "empty"),
        ("a.csv", b"PK\x03\x04\x00\x00\x00\x00" * 40, "binary"),
        ("a.gpx", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" * 9, "binary"),
        ("a.csv", b"x_m,y_m\n0,0\n1\xe90,0\n5,5\n", "UTF-8"),
        ("a.geojson", geojson(LINE).encode()[:-1] + b"\xff}", "UTF-8"),
    ],
)
def test_empty_binary_and_other_bytes(tmp_path: Path, name: str, content: bytes, words: str) -> None:
    assert words in str(fault_of(write(tmp_path, name, content)))


def test_a_folder(tmp_path: Path) -> None:
    assert "folder" in fault_of(tmp_path).message


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("x_m,y_m\n0,0\n300,0\n", None, "too few"),
        ("x_m,y_m\n7,7\n7,7\n7,7\n7,7\n", None, "all points are the same"),
        ("x_m,y_m\n0,0\nnan,0\n300,200\n", 3, "not a finite number"),
        ("x_m,y_m\n0,0\n1e999,0\n300,200\n", 3, "not a finite number"),
        ("x_m,y_m\n0,0\nabout 300,0\n300,200\n", 3, "not a number"),
        ("x_m,y_m\n0,0\n300\n300,200\n", 3, "too few columns"),
        ("x_m,y_m,width_right_m,width_left_m\n0,0,-1,5\n", 2, "out of range"),
        ("lat,lon\n52,-1\n-120,50\n", 3, "latitude is out of range"),
        ("lat,lon\n52,-1\n52,200\n", 3, "longitude is out of range"),
        ("x_m,y_m\n1e9,0\n", 2, "out of range"),
        ("easting,height\n0,0\n", 1, "columns of a position are missing"),
        ("0,0,0\n1,1,1\n", 1, "no header"),
        ("hello\nworld\n", 1, "no table of points"),
    ],
)
def test_bad_tables(tmp_path: Path, text: str, line: int | None, words: str) -> None:
    error = fault_of(write(tmp_path, "lap.csv", text))
    assert words in error.message
    assert error.fault.line == line


def test_swapped_degrees_are_hinted_at(tmp_path: Path) -> None:
    error = fault_of(write(tmp_path, "lap.csv", "lat,lon\n-120,50\n-120.1,50\n-120,50.1\n"))
    assert "swapped" in (error.fault.remedy or "")
    assert error.fault.field == "latitude"
    assert error.fault.value == "-120"
    assert error.fault.allowed == "-90 to 90 deg"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (XML + '<!DOCTYPE gpx SYSTEM "x.dtd">' + gpx(RING)[len(XML) :], "document type"),
        (XML + '<!DOCTYPE gpx [<!ENTITY a "b">]>' + gpx(RING)[len(XML) :], "document type"),
        (gpx(RING)[:-20], "well-formed"),
        (gpx([]), "no points"),
        (f'{XML}<gpx version="1.1"><wpt lat="52" lon="-1"/></gpx>', "only waypoints"),
        (f"{XML}<kml><Placemark/></kml>", "no GPX"),
        (gpx(RING).replace('lat="52.002"', 'lat="95"', 1), "latitude is out of range"),
        (gpx(RING).replace('lon="-1.0"', 'lon="west"', 1), "not a number"),
        (gpx(RING).replace('lon="-1.0"', "", 1), "not a number"),
        (gpx(RING).replace('lat="52.002"', 'lat="NaN"', 1), "not a finite number"),
        (gpx(RING, ele="<ele>high</ele>"), "not a number"),
        (gpx(RING[:2]), "too few"),
        (gpx(RING[:1] * 4), "all points are the same"),
        ("these are just words, in a file called gpx", "well-formed"),
    ],
)
def test_bad_gpx(tmp_path: Path, text: str, words: str) -> None:
    assert words in fault_of(write(tmp_path, "lap.gpx", text)).message


def test_a_bad_point_is_named_by_its_line(tmp_path: Path) -> None:
    text = gpx(RING).replace("<trkpt", "\n<trkpt").replace('lat="52.002"', 'lat="95"', 1)
    assert fault_of(write(tmp_path, "lap.gpx", text)).fault.line == 4


def test_a_document_type_is_refused_with_its_line(tmp_path: Path) -> None:
    error = fault_of(write(tmp_path, "lap.gpx", XML + "\n<!DOCTYPE gpx>" + gpx(RING)[len(XML) :]))
    assert error.fault.line == 3
    assert error.fault.remedy


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('{"type": "FeatureCollection"', "not JSON"),
        (geojson('{"type": "Point", "coordinates": [0, 0]}'), "no line"),
        (geojson("null"), "no line"),
        ('{"type": "Topology"}', "no GeoJSON object"),
        ("[1, 2, 3]", "object is needed"),
        ('{"type": "FeatureCollection", "features": 3}', "list is needed"),
        (geojson('{"type": "LineString", "coordinates": [[0, "a"], [1, 1]]}'), "not a number"),
        (geojson('{"type": "LineString", "coordinates": [[0, null], [1, 1]]}'), "not a number"),
        (geojson('{"type": "LineString", "coordinates": [[0, true], [1, 1]]}'), "not a number"),
        (geojson('{"type": "LineString", "coordinates": [[0, NaN], [1, 1]]}'), "not a finite number"),
        (geojson('{"type": "LineString", "coordinates": [[0, 1e999], [1, 1]]}'), "not a finite number"),
        (geojson('{"type": "LineString", "coordinates": [[0], [1, 1]]}'), "position is needed"),
        (geojson('{"type": "LineString", "coordinates": "all"}'), "list is needed"),
        (geojson('{"type": "LineString", "coordinates": [[10, 100], [1, 1]]}'), "latitude"),
        (geojson('{"type": "Polygon", "coordinates": [[]]}'), "too few"),
        ('{"type": "LineString", "coordinates": ' + "[" * 100_000, "nested too deeply"),
        ('{"a": ' + "9" * 10_000 + "}", "not JSON"),
    ],
)
def test_bad_geojson(tmp_path: Path, text: str, words: str) -> None:
    assert words in fault_of(write(tmp_path, "lap.geojson", text)).message


def test_a_bad_position_is_named_by_its_place(tmp_path: Path) -> None:
    text = geojson('{"type": "LineString", "coordinates": [[0, 0], [0, "a"]]}')
    fault = fault_of(write(tmp_path, "lap.geojson", text)).fault
    assert fault.field == "latitude"
    assert fault.value == "a"


def rows(count: int) -> str:
    return "".join(f"{row},{row % 7}\n" for row in range(count))


def test_over_fifty_thousand_points_is_refused_while_streaming(tmp_path: Path) -> None:
    error = fault_of(write(tmp_path, "lap.csv", "x_m,y_m\n" + rows(MOST_POINTS + 1) + "never read\n"))
    assert "too many points" in error.message
    assert error.fault.line == MOST_POINTS + 2
    many = [(52.0 + row * 1e-6, -1.0) for row in range(MOST_POINTS + 1)]
    assert "too many points" in fault_of(write(tmp_path, "lap.gpx", gpx(many))).message
    positions = [[0.0, row * 1e-6] for row in range(MOST_POINTS + 1)]
    text = geojson(f'{{"type": "LineString", "coordinates": {positions}}}')
    assert "too many points" in fault_of(write(tmp_path, "lap.geojson", text)).message


@pytest.mark.parametrize("name", ["lap.csv", "lap.gpx", "lap.geojson"])
def test_over_twenty_megabytes_is_refused_while_streaming(tmp_path: Path, name: str) -> None:
    start = {"lap.csv": "x_m,y_m\n", "lap.gpx": XML + "<gpx><!--", "lap.geojson": '{"type": "'}[name]
    path = tmp_path / name
    with path.open("wb") as file:
        file.write(start.encode())
        filler = b"# nothing\n" if name == "lap.csv" else b"nothing   \n"
        for _ in range(2_100):
            file.write(filler * 1000)
    error = fault_of(path)
    assert "too large" in error.message
    assert error.fault.allowed == "20 MB"


@settings(max_examples=150)
@given(content=st.binary(max_size=300), suffix=st.sampled_from(["csv", "gpx", "geojson", "txt", "xyz"]))
def test_no_bytes_bring_anything_but_an_outline_or_a_clear_error(
    tmp_path_factory: pytest.TempPathFactory, content: bytes, suffix: str
) -> None:
    path = tmp_path_factory.mktemp("any") / f"lap.{suffix}"
    path.write_bytes(content)
    with suppress(InputError):
        assert np.isfinite(read_outline(path).points).all()


@settings(max_examples=150)
@given(cut=st.integers(0, 400), put=st.text(max_size=6), which=st.sampled_from(["gpx", "geojson", "csv"]))
def test_no_damage_to_a_good_file_brings_a_traceback(
    tmp_path_factory: pytest.TempPathFactory, cut: int, put: str, which: str
) -> None:
    good = {"gpx": gpx(RING), "geojson": geojson(LINE), "csv": "lat,lon\n52,-1\n52.01,-1\n52,-0.99\n"}[which]
    at = cut % len(good)
    path = tmp_path_factory.mktemp("cut") / f"lap.{which}"
    path.write_text(good[:at] + put + good[at + 1 :], encoding="utf-8", errors="replace")
    with suppress(InputError):
        assert np.isfinite(read_outline(path).points).all()


def test_a_name_too_long_for_a_file_is_refused_in_plain_words() -> None:
    with pytest.raises(InputError, match="cannot be read"):
        read_outline(Path("y" * 300))


@pytest.mark.parametrize("kind", ['["LineString"]', "{}", "5", "null"])
def test_a_type_that_is_no_text_is_refused(tmp_path: Path, kind: str) -> None:
    with pytest.raises(InputError, match="no GeoJSON object"):
        read_outline(write(tmp_path, "lap.geojson", f'{{"type": {kind}, "coordinates": []}}'))


def test_a_number_without_end_is_told_in_plain_words(tmp_path: Path) -> None:
    text = f'{{"type": "LineString", "coordinates": [[{"9" * 5000}, 1]]}}'
    with pytest.raises(InputError, match="too many digits"):
        read_outline(write(tmp_path, "lap.geojson", text))


def test_a_name_becomes_one_line_without_control_characters(tmp_path: Path) -> None:
    text = geojson('{"type": "LineString", "coordinates": [[0, 1], [0, 2], [1, 2]]}')
    named = text.replace('"Lap"', '"Quill\\u001b[31m\\nmoor \\ud800"')
    assert read_outline(write(tmp_path, "lap.geojson", named)).name == "Quill [31m moor"


def test_a_decimal_comma_between_commas_tears_no_figure_in_two(tmp_path: Path) -> None:
    rows = "x_m,y_m\n10,5,20,5\n30,5,40,5\n50,5,20,5\n"
    with pytest.raises(InputError, match="more columns than the header") as error:
        read_outline(write(tmp_path, "lap.csv", rows))
    assert error.value.fault.line == 2
    assert "semicolons" in (error.value.fault.remedy or "")


def test_a_comma_in_quotes_parts_no_columns_and_empty_cells_at_the_end_do_no_harm(tmp_path: Path) -> None:
    rows = 'note,x_m,y_m\n"a, b",0,0\n"c, ""d""",300,0,\n"e",300,200,,\n'
    found = read_outline(write(tmp_path, "lap.csv", rows))
    assert found.points.tolist() == [[0.0, 0.0], [300.0, 0.0], [300.0, 200.0]]


def test_brackets_and_empty_tracks_without_end_are_refused_before_they_fill_the_memory(
    tmp_path: Path,
) -> None:
    # The last byte makes neither of them JSON or XML: they are refused before the end is read.
    brackets = "[" + "[]," * (4 * MOST_POINTS + 4) + "!"
    tracks = f"{XML}<gpx>" + "<trk/>" * (MOST_POINTS + 1) + "!"
    for name, text in (("lap.geojson", brackets), ("lap.gpx", tracks)):
        with pytest.raises(InputError, match="too many points"):
            read_outline(write(tmp_path, name, text))
