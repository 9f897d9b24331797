"""Group `first`: every woman of the open survey, drafted in both views of the dress and checked."""

from __future__ import annotations

from collections.abc import Iterator

import people
from clothwise.sizing.survey import women
from figures import Row, rows

GROUP = "first"

MOST_REFUSED_PERCENT = 1.0


@rows
def survey() -> Iterator[Row]:
    """A woman is refused, or has errors, if she is or has in any view."""
    walked = people.all_women("kiln-dress")
    total = len(women()) + people.without_body()
    refused = [each for each in walked.outcomes if each.refused]
    wrong = [each for each in walked.outcomes if each.errors]
    name = f"survey_all_{total}_women"
    share = 100 * (people.bodies(refused) + people.without_body()) / total
    told = people.counted(each.refused for each in refused)
    yield Row(f"{name}_refused", share, "%", MOST_REFUSED_PERCENT, note=told)
    told = people.counted(code for each in wrong for code in set(each.errors))
    yield Row(f"{name}_with_errors", people.bodies(wrong), "women", 0, note=told)
    yield Row(f"{name}_two_views", walked.took_s, "s", note=f"{people.WORKERS} processes")
