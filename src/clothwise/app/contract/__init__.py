"""The interface for scripts: what they may ask, what they are answered, and its description.

Scripts send the token of the opened address as `Authorization: Bearer TOKEN` and ask for
`application/json`. The description (OpenAPI 3.1) follows from the operations, the classes of their
answers and the classes of commands; it is served at `/openapi.json` and kept in
docs/reference/api.json. Tests compare both, and ask each operation. Addresses that answer pages
and parts of pages for the browser are not listed.

operations.py    what may be asked; a new one gets its entry here
answers.py       the shape of each answer
description.py   OpenAPI, from both

    python -m clothwise.app.contract      writes docs/reference/api.json anew
"""

from clothwise.app.contract.description import openapi
from clothwise.app.contract.operations import OPERATIONS, Operation

__all__ = ["OPERATIONS", "Operation", "openapi"]
