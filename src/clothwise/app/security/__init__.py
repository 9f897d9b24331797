"""Who may ask, from where, how much: every request passes here before a room sees it."""

from clothwise.app.security.bounds import Bounds
from clothwise.app.security.entry import Entrance
from clothwise.app.security.headers import Headers
from clothwise.app.security.hosts import Hosts
from clothwise.app.security.paths import folder_name, inside, is_folder_name
from clothwise.app.security.visitors import Visitor, Visitors, hashed, visitor

__all__ = [
    "Bounds",
    "Entrance",
    "Headers",
    "Hosts",
    "Visitor",
    "Visitors",
    "folder_name",
    "hashed",
    "inside",
    "is_folder_name",
    "visitor",
]
