"""What is given out, what makes it void, and who has confirmed that."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.test import override_settings

from leanladder.domain.errors import InputError
from leanladder.records import given, history, latest, links
from leanladder.records.models import Day, Given, Person, Seen

LARKS = (("Wren", "1"), ("Sedge", "2"), ("Linnet", "3"))


def out(demo: Day, run: str = "larks 1", word: str = "heron", by: Person | None = None) -> Given:
    return given.give_out(
        demo.pk,
        run,
        '{"kept":1}',
        word=word,
        valid_minutes=20,
        by=by,
        riders=LARKS,
        digest="d",
        reason="first",
    )


def test_what_is_given_out_is_kept_by_value(demo: Day, head: Person) -> None:
    kept = given.given(out(demo, by=head).pk)
    assert (kept.content, kept.word, kept.digest, kept.by, kept.by_name) == (
        '{"kept":1}',
        "heron",
        "d",
        head,
        "Oda Fenn",
    )
    assert [tuple(each) for each in kept.riders] == list(LARKS)
    assert kept.counts
    assert given.current(demo.pk, "larks 1") == kept
    assert given.last_given_to(demo.pk, "Wren") == kept
    assert given.last_given_to(demo.pk, "Hobby") is None
    head.delete()
    assert given.given(kept.pk).by_name == "Oda Fenn"


def test_a_new_one_takes_the_place_of_what_counted(demo: Day) -> None:
    first, other = out(demo), out(demo, "larks 2", "otter")
    second = out(demo, word="plover")
    assert second.after == first
    first.refresh_from_db()
    other.refresh_from_db()
    assert (first.counts, first.void_why) == (False, given.REPLACED)
    assert other.counts
    assert given.current(demo.pk, "larks 1") == second
    assert given.given_of(demo.pk) == [first, other, second]


def test_a_word_serves_once_a_day(demo: Day) -> None:
    out(demo)
    given.void(demo.pk, "rain", None, word="badger")
    for word, why in (
        ("heron", "used this word"),
        ("badger", "used this word"),
        (" ", "no day word"),
        ("x" * 61, "no day word"),
    ):
        with pytest.raises(InputError, match=why):
            out(demo, word=word)
    assert given.words_used(demo.pk) == {"heron", "badger"}
    with pytest.raises(InputError, match="would never hold"):
        given.give_out(demo.pk, "larks 1", "", word="stoat", valid_minutes=0, by=None)


def test_the_tables_themselves_let_one_count_of_a_run(demo: Day) -> None:
    first = out(demo)
    copy = Given.objects.get(pk=first.pk)
    copy.pk, copy.word = None, "another"
    with pytest.raises(IntegrityError), transaction.atomic():
        copy.save(force_insert=True)


def test_rain_makes_all_void_at_once(demo: Day, head: Person) -> None:
    one, two = out(demo), out(demo, "plovers 1", "otter")
    gone = given.void(demo.pk, "rain", head, word="badger")
    assert gone == [one, two]
    assert len({each.void_at for each in gone}) == 1
    assert {(each.void_why, each.void_by_name, each.void_word) for each in gone} == {
        ("rain", "Oda Fenn", "badger")
    }
    assert given.current(demo.pk, "larks 1") is None
    assert given.void(demo.pk, "rain again", head) == []
    with pytest.raises(InputError, match="no reason"):
        given.void(demo.pk, "  ", head)


def test_rain_on_a_stopped_run_has_a_word_of_its_own_to_confirm(demo: Day, head: Person) -> None:
    replaced, stopped, counts = out(demo, word="owl"), out(demo), out(demo, "plovers 1", "otter")
    given.void(demo.pk, "stopped", head, run_name="larks 1")
    wren = links.link_for(demo.pk, "Wren")
    given.void_read(wren, stopped.pk)
    assert "Wren" not in {row.rider for row in given.unconfirmed(demo.pk)}
    assert given.void(demo.pk, "rain", head, word="badger") == [stopped, counts]
    stopped.refresh_from_db()
    replaced.refresh_from_db()
    assert (stopped.void_why, stopped.void_word) == ("rain", "badger")
    assert (replaced.void_why, replaced.void_word) == (given.REPLACED, "")
    assert "Wren" in {row.rider for row in given.unconfirmed(demo.pk)}
    given.void_read(wren, stopped.pk)
    assert "Wren" not in {row.rider for row in given.unconfirmed(demo.pk)}


def test_rain_is_kept_where_nothing_counted(demo: Day, head: Person) -> None:
    assert given.rained(demo.pk) is None
    before = latest.mark_of_calls(demo.pk, "larks 1")
    assert given.void(demo.pk, "rain", head, word="badger") == []
    kept = given.rained(demo.pk)
    assert kept is not None
    assert (kept.word, kept.why, kept.by_name) == ("badger", "rain", "Oda Fenn")
    assert given.words_used(demo.pk) == {"badger"}
    assert latest.mark_of_calls(demo.pk, "larks 1") != before


def test_one_run_alone_may_be_made_void(demo: Day) -> None:
    one, two = out(demo), out(demo, "plovers 1", "otter")
    assert given.void(demo.pk, "red flag", None, run_name="larks 1") == [one]
    assert given.current(demo.pk, "plovers 1") == two


def test_who_has_not_confirmed(demo: Day, head: Person) -> None:
    kept = out(demo)
    wren, sedge = (links.link_for(demo.pk, name) for name in ("Wren", "Sedge"))
    given.void_read(wren, kept.pk)  # it still counts: nothing to confirm
    assert not Seen.objects.exists()
    given.record_seen(wren, kept.pk)
    given.record_seen(sedge, kept.pk)
    given.void(demo.pk, "rain", head, word="badger")
    rows = given.unconfirmed(demo.pk)
    assert [(row.rider, row.machine, row.opened) for row in rows] == [
        ("Wren", "1", True), ("Sedge", "2", True), ("Linnet", "3", False),
    ]  # fmt: skip
    assert rows == given.unconfirmed(Given.objects.get(pk=kept.pk))
    given.void_read(wren, kept.pk)
    given.told(kept, "Linnet", head)
    assert [row.rider for row in given.unconfirmed(demo.pk)] == ["Sedge"]
    told = Seen.objects.get(link__rider_name="Linnet")
    assert (told.told_by, told.first_at) == ("Oda Fenn", None)
    with pytest.raises(InputError, match="not given to that rider"):
        given.told(kept, "Hobby", head)


def test_what_counts_is_confirmed_by_being_opened(demo: Day, head: Person) -> None:
    kept = out(demo)
    given.record_seen(links.link_for(demo.pk, "Wren"), kept.pk)
    given.told(kept, "Sedge", head)
    assert [row.rider for row in given.unconfirmed(kept)] == ["Linnet"]
    given.void(demo.pk, "rain", head)  # what was said before does not tell of it
    assert [row.rider for row in given.unconfirmed(demo.pk)] == ["Wren", "Sedge", "Linnet"]


def test_a_link_confirms_nothing_that_was_given_to_others(demo: Day) -> None:
    kept = out(demo)
    given.void(demo.pk, "rain", None)
    given.void_read(links.link_for(demo.pk, "Hobby"), kept.pk)
    given.void_read(links.link_for(demo.pk, "Wren"), kept.pk + 1)
    assert not Seen.objects.exists()


def test_who_confirmed_one_of_several_has_confirmed(demo: Day) -> None:
    out(demo)
    later = out(demo, "larks 2", "otter")
    given.void(demo.pk, "rain", None)
    given.void_read(links.link_for(demo.pk, "Wren"), later.pk)
    assert [row.rider for row in given.unconfirmed(demo.pk)] == ["Sedge", "Linnet"]


def test_what_was_replaced_is_no_void_to_confirm(demo: Day) -> None:
    out(demo)
    assert given.unconfirmed(demo.pk) == []
    out(demo, word="otter")
    assert given.unconfirmed(demo.pk) == []


def test_seen_is_written_anew_after_a_while_only(demo: Day) -> None:
    kept, link = out(demo), links.link_for(demo.pk, "Wren")
    first = given.record_seen(link, kept.pk)
    assert given.record_seen(link, kept.pk).last_at == first.last_at
    assert first.last_at is not None
    past = first.last_at - timedelta(seconds=30)
    Seen.objects.update(last_at=past, first_at=past)
    again = given.record_seen(link, kept.pk)
    assert again.last_at is not None
    assert again.last_at > past
    assert again.first_at == past


def test_a_link_proves_itself_and_can_be_taken_back(demo: Day) -> None:
    link = links.link_for(demo.pk, "Wren")
    assert links.link_for(demo.pk, "Wren") == link
    token = links.token(link)
    key, _, proof = token.partition("-")
    assert key == str(link.pk)
    assert len(proof) == 22
    assert links.link_of(token) == link
    other = links.token(links.link_for(demo.pk, "Sedge"))
    wrong = [
        *("", "-", key, f"{key}-", f"{key}-{'A' * 22}", f"{key}-{other.partition('-')[2]}", f"999-{proof}"),
        *(f"x-{proof}", f" {token}", f"{token}x", token[:-1], f"{key}-{'é' * 22}", f"²-{proof}"),
        *(f"{'9' * figures}-{proof}" for figures in (18, 19, 30, 5000)),
    ]
    assert [each for each in wrong if links.link_of(each) is not None] == []
    links.revoke(link)
    assert links.link_of(token) is None
    again = links.link_for(demo.pk, "Wren")
    assert again.pk != link.pk
    assert links.links(demo.pk)[-1] == again
    (told,) = history.changes_of("link", link.pk)
    assert link.nonce not in str(told.was) + str(told.now)


def test_a_token_does_not_outlive_the_key(demo: Day) -> None:
    link = links.link_for(demo.pk, "Wren")
    token = links.token(link)
    with override_settings(SECRET_KEY="another laptop's key"):  # noqa: S106
        assert links.link_of(token) is None
