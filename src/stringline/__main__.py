"""Lets `python -m stringline` do what the `stringline` command does."""

import sys

from stringline.cli import main

if __name__ == "__main__":
    sys.exit(main())
