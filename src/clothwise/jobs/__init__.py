"""Many independent jobs, in local processes or on a cluster, with the same results."""

from clothwise.jobs.errors import JobsCancelled, JobsError
from clothwise.jobs.interrupts import interrupts_held
from clothwise.jobs.packed import Packed
from clothwise.jobs.running import Progress, run_jobs, usual_workers

__all__ = [
    "JobsCancelled",
    "JobsError",
    "Packed",
    "Progress",
    "interrupts_held",
    "run_jobs",
    "usual_workers",
]
