"""A refusal of typed measurements, which also tells the page which fields it is about."""

from __future__ import annotations

import json

from starlette.requests import Request
from starlette.responses import Response

from clothwise.app.measured_texts import faulty_fields
from clothwise.app.pages import refusal
from clothwise.errors import ClothwiseError

__all__ = ["refused_fields"]


def refused_fields(request: Request, error: ClothwiseError) -> Response:
    """Return the refusal; its event `cw:faulty` names the fields for the page to mark."""
    answer = refusal(request, error)
    if fields := faulty_fields(error):
        answer.headers["HX-Trigger"] = json.dumps({"cw:faulty": {"fields": fields}})
    return answer
