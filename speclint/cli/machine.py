"""The forms for programs: each takes all reports of a run and gives one text; loaded only when asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import NamedTuple

from speclint.files.plans import repository_path
from speclint.packs.rule import Pack
from speclint.review.report import Report


class Whole(NamedTuple):
    """All that came of a run: the reports, the files not read with the reason, the packs, and JUnit's flavour."""

    reports: Sequence[Report]
    not_read: Sequence[tuple[str, str]]
    packs: Sequence[Pack]
    loose: bool = False


_path = cache(repository_path)


def _json(whole: Whole) -> str:
    from speclint.forms.json_form import json_form

    return json_form(whole.reports, whole.not_read)


def _sarif(whole: Whole) -> str:
    from speclint.forms.sarif import sarif_form

    return sarif_form(whole.reports, whole.packs, _path, whole.not_read)


def _junit(whole: Whole) -> str:
    from speclint.forms.junit import junit_form

    return junit_form(whole.reports, _path, whole.not_read, whole.loose)


def _quality(whole: Whole) -> str:
    from speclint.forms.quality import quality_form

    return quality_form(whole.reports, _path, whole.not_read)


def _annotations(whole: Whole) -> str:
    from speclint.forms.annotations import annotations_form

    return annotations_form(whole.reports, _path, whole.not_read)


def _summary(whole: Whole) -> str:
    from speclint.forms.summary import summary_form

    return summary_form(whole.reports, _path, whole.not_read)


MACHINE: Mapping[str, Callable[[Whole], str]] = {
    "json": _json,
    "sarif": _sarif,
    "junit": _junit,
    "quality": _quality,
    "annotations": _annotations,
    "summary": _summary,
}
