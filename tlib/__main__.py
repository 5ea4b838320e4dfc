"""``python -m tlib``: the door to the commands."""

from tlib.cli import main

if __name__ == "__main__":
    main()
