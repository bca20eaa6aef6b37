"""`python -m briefing` is the same as `briefing`."""

from briefing.cli.main import run

if __name__ == "__main__":
    run()
