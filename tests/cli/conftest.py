from tests.cli.running import run

__all__ = ["run"]
