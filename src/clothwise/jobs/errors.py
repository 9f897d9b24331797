"""What can go wrong around jobs; what goes wrong inside one is that job's own exception."""

from __future__ import annotations

from clothwise.errors import ClothwiseError


class JobsError(ClothwiseError):
    """Workers that cannot be had, do not fit this version, or died too often."""


class JobsCancelled(ClothwiseError):
    """Whoever asked for the work wants no more of it; what was told before stays."""
