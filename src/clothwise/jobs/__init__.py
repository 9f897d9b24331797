"""Many independent jobs, in local processes or on a cluster, with the same results."""
