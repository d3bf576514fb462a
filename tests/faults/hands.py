"""A process with several hands. Reads lines `tool token`, logs each pull through its deed, answers `done token`.

Whatever goes wrong is answered as `error token what`. What was answered as done has been committed.
"""

import gc
import os
import queue
import sys
import threading
from uuid import UUID

import django

HANDS = int(os.environ.get("HANDS", "8"))


def main() -> None:
    """Work until the input ends."""
    django.setup()
    # A cursor that is collected in another hand's thread waits for its own connection, and nobody goes on meanwhile.
    gc.disable()
    jobs: queue.Queue[str | None] = queue.Queue()
    hands = [threading.Thread(target=work, args=(jobs,)) for _ in range(HANDS)]
    for hand in hands:
        hand.start()
    for line in sys.stdin:
        jobs.put(line.strip())
    for _ in hands:
        jobs.put(None)
    for hand in hands:
        hand.join()


def work(jobs: "queue.Queue[str | None]") -> None:
    """One hand: one deed after the other, over a connection of its own."""
    from django.db import connection

    while job := jobs.get():
        tool, token = job.split()
        try:
            pull(int(tool), UUID(token))
        except Exception as error:
            answer(f"error {token} {error!r}")
        else:
            answer(f"done {token}")
    connection.close()


def pull(key: int, token: UUID) -> None:
    """As the page does: what comes off one half of a pair comes off both."""
    from tooling.models import Tool
    from tooling.selectors.matched import halves_of
    from tooling.services import deeds

    tool = Tool.objects.get(pk=key)
    halves = [(one, None) for one in (tool, *halves_of(tool))]
    deeds.take_off_set(halves, came_off="free", another=True, by=None, recorded_by=None, token=token)


def answer(line: str) -> None:
    """One write a line, so that lines of two hands never mix."""
    os.write(1, f"{line}\n".encode())


if __name__ == "__main__":
    main()
