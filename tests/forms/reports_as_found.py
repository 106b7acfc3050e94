"""A report made by hand on a plan whose old findings were recorded: one known, one mended, one withdrawn."""

from __future__ import annotations

from speclint.review.report import KNOWN, MENDED, WITHDRAWN, Recorded
from tests.forms.reports import LINER, QUESTIONS, finding, report

PLACE = ("hall shower", "shower walls")
RECORDED = report(
    summary="revise",
    said="send back",
    findings=(LINER, finding(known=True)),
    questions=(QUESTIONS[0]._replace(known=True), QUESTIONS[1]),
    as_found=(
        Recorded(KNOWN, "bed-thinner-than-the-gap", PLACE, 1, ""),
        Recorded(KNOWN, "question tile.thick", PLACE, 1, ""),
        Recorded(MENDED, "offset-over-a-third", PLACE, 1, "the plan meets it now"),
        Recorded(WITHDRAWN, "mortar-too-weak", PLACE, 2, "it is an open question now"),
    ),
)
