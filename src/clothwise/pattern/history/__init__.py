"""What was done to a design: every state of its documents, undo and redo, and what was in conflict.

The command line and the app write the same history.
"""

from clothwise.pattern.commands import Documents
from clothwise.pattern.history.entry import Conflict, Entry
from clothwise.pattern.history.history import History
from clothwise.pattern.history.store import DamagedHistory

__all__ = ["Conflict", "DamagedHistory", "Documents", "Entry", "History"]
