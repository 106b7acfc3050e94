"""Faces put together by what they get: one batch for each specification that a room has."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from speclint.facts.subject import Subject
from speclint.works.faces import Face
from speclint.works.lines import Input, Line, Pack
from speclint.works.reading import ZERO, Reach, Reader

NOT_TOLD = "not told"


class Batch(NamedTuple):
    """Faces of one place with one specification: their net area, what it is made of, and what is not known of it."""

    place: str
    section: Subject
    specification: str
    faces: tuple[Face, ...]
    area: Reach | None
    steps: tuple[Input, ...]
    missing: tuple[str, ...]


def batches(reader: Reader, place: str, faces: Iterable[Face], *keys: str) -> tuple[Batch, ...]:
    """Faces by the lines of some keys as the plan writes them; the first key is the specification."""
    groups: dict[tuple[str, ...], list[Face]] = {}
    for face in faces:
        groups.setdefault(tuple(reader.said(face.section, key) for key in keys), []).append(face)
    return tuple(_batch(place, said[0] or NOT_TOLD, tuple(group)) for said, group in groups.items())


def _batch(place: str, specification: str, faces: tuple[Face, ...]) -> Batch:
    known = [face.area for face in faces if face.area is not None]
    area = ZERO
    for one in known:
        area = area.plus(one)
    missing = dict.fromkeys(one for face in faces for one in face.missing)
    if known and (area.low < 0 or area.high <= 0):
        missing["the faces that the openings stand in"] = None
        known = []
    return Batch(
        place,
        faces[0].section,
        specification,
        faces,
        area if known else None,
        tuple(step for face in faces for step in face.steps),
        tuple(missing),
    )


def line(
    batch: Batch,
    item: str,
    *,
    net: Reach | None,
    dimension: str,
    packs: Pack | None,
    inputs: Iterable[Input],
    formula: str,
    because: Iterable[str] = (),
    missing: Iterable[str] = (),
) -> Line:
    """A line of a batch; what its faces miss stands before what the line misses itself."""
    every = tuple(dict.fromkeys((*batch.missing, *missing)))
    told = tuple(inputs)
    return Line(batch.place, item, batch.specification, net, dimension, packs, told, formula, tuple(because), every)
