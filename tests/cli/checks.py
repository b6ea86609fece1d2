"""What the tests of the command line share: the program, an empty home for it, counted checks."""
import os
import sys

program = os.path.abspath(sys.argv[1])
_counts = {True: 0, False: 0}


def check(what, right, *seen):
    _counts[bool(right)] += 1
    if not right:
        print("FAILED", what, *seen)


def home_in(folder):
    """The environment in which the program finds only this folder."""
    return dict(os.environ, XDG_DATA_HOME=folder, XDG_CONFIG_HOME=folder, LC_ALL="C.UTF-8")


def finish():
    print(f"{_counts[True]} passed, {_counts[False]} failed")
    sys.exit(1 if _counts[False] else 0)
