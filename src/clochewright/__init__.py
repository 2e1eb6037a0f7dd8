"""clochewright: knock-down pipe-frame covers for raised beds, from a bed's size to a finished build."""

import os

# The frame solver's matrices are small: more than one thread only waits on the others, ten times as long on a busy
# machine. Read by numpy's linear algebra when it is first imported, which is after this.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
