"""Run a command as the child of a small process, and say what it took.

Run as a script: ``launch.py COMMAND ...``. What the command prints comes first; the last line is
its wall time [s] and the greatest memory it had in use, in the system's unit. A process starts with
the high mark of the one that forked it, so it must not be started from a large one.
"""

import os
import sys
import time


def main() -> None:
    """Run the rest of the command line and end as it ends."""
    start = time.perf_counter()
    child = os.posix_spawn(sys.argv[1], sys.argv[1:], os.environ)
    _, status, usage = os.wait4(child, 0)
    print(time.perf_counter() - start, usage.ru_maxrss)
    sys.exit(os.waitstatus_to_exitcode(status))


if __name__ == "__main__":
    main()
