"""Own files are checked by the catalogue before they are kept."""

from __future__ import annotations

from importlib.resources import files

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from leanladder.records import stable
from leanladder.records.models import OwnFile

EXAMPLE = files("leanladder").joinpath("data", "example")


def give(head: Client, content: bytes) -> int:
    return head.post("/files/", {"file": SimpleUploadedFile("own.toml", content)}).status_code


@pytest.mark.parametrize("kind", ["tyre", "machine"])
def test_an_example_is_taken_and_offered_to_machines(head: Client, kind: stable.Kind) -> None:
    example = head.get(f"/files/example/{kind}/").content
    assert give(head, example) == 302
    kept = stable.own_files(kind)[0]
    assert kept.path in head.get("/machines/new/").content.decode()
    assert head.get(f"/files/{kept.pk}/download/").content == example


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b'schema = "tyre/1"\nname = "x"\nbase = "sport-raod"\n', "sport-road"),
        (b'schema = "tyre/1"\nname = "x"\n', "missing"),
        (b'schema = "day/1"\n', "no tyre and no machine"),
        (b"not toml at all", "cannot be read"),
        (b"\xff\xfe\x00", "no text"),
        (b"", "empty"),
    ],
)
def test_a_wrong_file_is_told_and_not_kept(head: Client, content: bytes, says: str) -> None:
    answer = head.post("/files/", {"file": SimpleUploadedFile("own.toml", content)})
    assert answer.status_code == 400
    assert says in answer.content.decode()
    assert not OwnFile.objects.exists()


def test_another_file_of_a_name_does_not_replace_it_unasked(head: Client) -> None:
    text = EXAMPLE.joinpath("tyre.toml").read_text(encoding="utf-8")
    give(head, text.encode())
    assert give(head, text.replace("tread_m = 0.0042", "tread_m = 0.0043").encode()) == 400
    kept = OwnFile.objects.get()
    changed = text.replace("tread_m = 0.0042", "tread_m = 0.0043")
    assert head.post(f"/files/{kept.pk}/", {"file_text": changed}).status_code == 302
    assert "0.0043" in OwnFile.objects.get().text
    assert "0.0043" in head.get(f"/files/{kept.pk}/").content.decode()


def test_one_in_use_stays(head: Client) -> None:
    give(head, EXAMPLE.joinpath("tyre.toml").read_bytes())
    kept = OwnFile.objects.get()
    stable.save_machine("1", {"machine": "naked", "tyre": kept.path}, False, None)
    answer = head.post(f"/files/{kept.pk}/remove/")
    assert answer.status_code == 400
    assert OwnFile.objects.exists()
    assert "in use" in head.get("/files/").content.decode()
