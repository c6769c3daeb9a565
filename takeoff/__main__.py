"""Run the command line as ``python -m takeoff``."""

from takeoff.cli.app import main

if __name__ == "__main__":
    main()
