#!/usr/bin/env python3
"""Hornplate's command line: `python3 manage.py start`, `python3 manage.py test`."""

# This file must be readable by old Pythons too, so that they can be told what is needed.
import os
import sys

OLDEST_PYTHON = (3, 11)


def main() -> int:
    if sys.version_info[:2] < OLDEST_PYTHON:
        sys.stderr.write(
            "Hornplate needs Python %d.%d or newer; this is %d.%d (%s).\n"  # noqa: UP031
            % (OLDEST_PYTHON + sys.version_info[:2] + (sys.executable,))
        )
        return 2
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "buildlog.settings")
    from buildlog import bootstrap

    return bootstrap.main(sys.argv)


if __name__ == "__main__":
    sys.exit(main())
