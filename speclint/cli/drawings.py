"""Puts drawings where they were asked for: into one file, or each into a file of its own in a folder."""

from __future__ import annotations

import os
from collections.abc import Sequence

from speclint.cli.streams import put
from speclint.forms.drawing import Drawing, svg

_ENDING = ".svg"


def put_drawings(drawings: Sequence[Drawing], into: str) -> None:
    """Write drawings below each other, or one file each where ``into`` is a folder or ends as one."""
    if not (into.endswith(("/", os.sep)) or os.path.isdir(into)):
        put(svg(drawings), into)
        return
    from speclint.files.write import make_folder, replace_file

    make_folder(into)
    names: dict[str, int] = {}
    for drawing in drawings:
        again = names[drawing.id] = names.get(drawing.id, 0) + 1
        name = f"{drawing.id}{f'-{again}' if again > 1 else ''}{_ENDING}"
        replace_file(os.path.join(into, name), svg([drawing]))
