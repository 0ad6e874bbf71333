"""``python -m ampleroom``: the command line."""

from ampleroom.cli import main

raise SystemExit(main())
