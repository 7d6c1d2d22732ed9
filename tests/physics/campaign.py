"""A long run of random designs, outside the check: `python -m tests.physics.campaign 10000 [first seed]`."""

import sys
import time

from tests.physics.compared import compare, survive


def main(count: int, first: int) -> None:
    started = time.process_time()
    known = 0
    for seed in range(first, first + count):
        try:
            known += compare(seed)
            survive(seed)
        except Exception as error:
            error.add_note(f"seed {seed}")
            raise
    seconds = time.process_time() - started
    print(f"{count} designs from seed {first}: {known} chains known in full, all as recomputed, {seconds:.0f} s of CPU")


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
