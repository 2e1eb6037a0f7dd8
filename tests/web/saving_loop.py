"""Saves one plan over and over, telling each save on standard output when it is done, until it is killed."""

from __future__ import annotations

import sys
from pathlib import Path

from clochewright.web.shelf import Shelf


def main() -> None:
    """Save, tell, save again."""
    shelf = Shelf(Path(sys.argv[1]))
    number = int(sys.argv[2])
    while True:
        number += 1
        if number % 7 == 0:
            shelf.undo("bed")
            shelf.redo("bed")
        with shelf.bench("bed") as bench:
            bench.tick("A-1", number % 50, done=True)
        text = f'name = "save {number}"\n' + "# filling\n" * 300
        shelf.save("bed", lambda _, text=text: (text, "a save"))
        sys.stdout.write(f"{number}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
