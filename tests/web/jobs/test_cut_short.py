"""What a power loss cut short is begun again; what records have overtaken is forgotten."""

from __future__ import annotations

import pytest
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from leanladder.records import live, plans
from leanladder.records.models import Day, Plan
from leanladder.web import plans as asked
from leanladder.web.jobs.cut_short import take_up


def states() -> list[str]:
    return sorted(DBTaskResult.objects.values_list("status", flat=True))


def cut(**changes: object) -> None:
    """Leave the one job as a power loss would."""
    DBTaskResult.objects.update(status=TaskResultStatus.RUNNING, **changes)


def test_a_job_that_was_running_waits_again(demo: Day) -> None:
    asked.progress(demo.pk)
    cut()
    assert take_up() == 1
    assert states() == ["READY"]
    assert [plan.state for plan in plans.unfinished()] == ["waiting"]
    assert take_up() == 0


def test_a_plan_whose_job_is_lost_is_asked_for_anew(demo: Day) -> None:
    asked.progress(demo.pk)
    (plan,) = plans.unfinished()
    DBTaskResult.objects.all().delete()
    plans.tell_progress(plan.pk, 3, 7)
    assert take_up() == 1
    (job,) = DBTaskResult.objects.all()
    assert job.status == "READY"
    assert job.args_kwargs["args"][0] == plan.pk


def test_a_plan_whose_job_failed_unseen_is_asked_for_anew(demo: Day) -> None:
    asked.progress(demo.pk)
    DBTaskResult.objects.update(status=TaskResultStatus.FAILED)
    assert take_up() == 1
    assert states() == ["FAILED", "READY"]


def test_a_plan_that_was_overtaken_is_forgotten(demo: Day) -> None:
    asked.progress(demo.pk)
    DBTaskResult.objects.all().delete()
    live.measure(demo.pk, None, track_c=9.0)
    assert take_up() == 1
    assert not Plan.objects.exists()
    assert not DBTaskResult.objects.exists()


def test_jobs_that_are_done_stay_done(demo: Day) -> None:
    asked.progress(demo.pk)
    plans.keep_plan(demo.pk, plans.unfinished()[0].digest, content="[]")
    DBTaskResult.objects.update(status=TaskResultStatus.SUCCESSFUL)
    assert take_up() == 0
    assert states() == ["SUCCESSFUL"]


def test_a_job_at_which_the_worker_fell_over_twice_has_failed(demo: Day) -> None:
    asked.progress(demo.pk)
    cut()
    assert take_up(fell_over=True) == 1
    assert states() == ["READY"]
    cut()
    assert take_up() == 1  # a power cut is no fault of the job's
    cut()
    assert take_up(fell_over=True) == 0
    assert states() == ["FAILED"]
    assert asked.progress(demo.pk).state == "failed"


def test_what_had_failed_gets_another_chance_at_the_next_start(demo: Day) -> None:
    asked.progress(demo.pk)
    asked.failed(plans.unfinished()[0].pk, "")
    assert asked.progress(demo.pk).state == "failed"
    assert take_up() == 0
    assert asked.progress(demo.pk).state == "waiting"


def test_no_plan_is_left_without_a_job(demo: Day, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where asking fails, no plan stays that nobody works out."""

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("leanladder.web.plans._asked", full)
    with pytest.raises(OSError, match="No space"):
        asked.progress(demo.pk)
    assert not Plan.objects.exists()


def test_a_plan_that_readings_have_overtaken_is_not_worked_out(demo: Day) -> None:
    inputs = asked.inputs_of(demo.pk)
    asked.progress(demo.pk, inputs)
    (plan,) = plans.unfinished()
    live.measure(demo.pk, None, track_c=9.0)
    asked.work_out_now(plan.pk, inputs)
    assert not Plan.objects.exists()
