"""What was done to a design: every state of its documents, undo and redo, and what was in conflict.

The command line and the app write the same history.

history.py    what can be done, and how a step becomes one
states.py     the tree of states that the log tells of: head, undone, the way between two
entry.py      one state, and the line of the log that tells of it
conflict.py   whether two changes concern the same
store.py      texts and log on disk, forced there and locked
folder.py     the documents as they stand in the folder
"""

from clothwise.pattern.commands import Documents
from clothwise.pattern.history.conflict import Conflict
from clothwise.pattern.history.entry import Entry
from clothwise.pattern.history.history import History
from clothwise.pattern.history.store import DamagedHistory

__all__ = ["Conflict", "DamagedHistory", "Documents", "Entry", "History"]
