"""Work in other processes: what a hand waits for at once, the rest behind it, all of it endable."""

from clothwise.app.work.asking import (
    ask,
    begin,
    cancel,
    follow,
    start_workers,
    stop_workers,
    worker_ids,
)
from clothwise.app.work.errors import (
    REFUSED_SIZE,
    JobCancelled,
    JobRefused,
    JobTooLong,
    Superseded,
    WorkerFailed,
)
from clothwise.app.work.events import close_streams, listeners, publish, stream
from clothwise.app.work.job import Job, Shown, Tell, Told

__all__ = [
    "REFUSED_SIZE",
    "Job",
    "JobCancelled",
    "JobRefused",
    "JobTooLong",
    "Shown",
    "Superseded",
    "Tell",
    "Told",
    "WorkerFailed",
    "ask",
    "begin",
    "cancel",
    "close_streams",
    "follow",
    "listeners",
    "publish",
    "start_workers",
    "stop_workers",
    "stream",
    "worker_ids",
]
