"""The folder of sheets that the tests of the command line use."""

from tests.cli.conftest import folder

__all__ = ["folder"]
