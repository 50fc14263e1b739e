"""Runs the client from a shell: python3 -m saltlock, or the command saltlock."""

import os
import sys

from saltlock import main


def run() -> int:
    """Answers what the command line asks; quiet where the reader has gone, as `head` does."""
    try:
        code = main(sys.argv[1:])
        sys.stdout.flush()
        return code
    except BrokenPipeError:
        # The interpreter flushes once more at its end, and would complain then.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141  # as a shell reports a program ended by SIGPIPE


if __name__ == "__main__":
    sys.exit(run())
