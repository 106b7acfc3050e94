"""Plans by the thousand from a seed: the shipped examples with other names, sizes and orders of lines."""

from __future__ import annotations

import random
import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "specs_examples"
SIZE = re.compile(r"(?<![\w/.-])(\d{2}) in\b")


def originals() -> list[str]:
    """The texts of the shipped hard and sound plans, which are as long and varied as those of real jobs."""
    paths = (path for folder in ("hard", "sound") for path in sorted((EXAMPLES / folder).glob("*.wetspec")))
    return [path.read_text(encoding="utf-8") for path in paths]


def plan_text(seed: int, texts: list[str] | None = None) -> str:
    """One plan: an example with sizes moved by up to three inches and a name of its own."""
    dice = random.Random(seed)
    text = dice.choice(texts or originals())

    def moved(match: re.Match[str]) -> str:
        return f"{max(10, int(match.group(1)) + dice.randint(-3, 3))} in"

    text = SIZE.sub(moved, text)
    return re.sub(r'^plan "[^"]*"', f'plan "Job {seed}"', text, count=1, flags=re.MULTILINE)


def write(seed: int, count: int, folder: Path) -> None:
    """Write ``count`` plans in folders of a hundred."""
    texts = originals()
    for number in range(count):
        where = folder / f"{number // 100:04d}"
        where.mkdir(parents=True, exist_ok=True)
        (where / f"job-{number:06d}.wetspec").write_text(plan_text(seed + number, texts), encoding="utf-8")


def main() -> int:
    """``corpus.py SEED COUNT FOLDER``."""
    seed, count, folder = int(sys.argv[1]), int(sys.argv[2]), Path(sys.argv[3])
    write(seed, count, folder)
    return 0


if __name__ == "__main__":
    sys.exit(main())
