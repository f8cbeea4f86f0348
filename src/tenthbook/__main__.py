"""Lets `python -m tenthbook` do what the command `tenthbook` does."""

from tenthbook.faces.cli import main

if __name__ == "__main__":
    main()
