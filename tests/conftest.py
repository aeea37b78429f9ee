"""What every test run shares."""

import os

# Two workers share two cores: a thread pool under each one's small matrices only makes them wait for one another.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
