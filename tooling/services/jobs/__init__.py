"""Long work for the screens: asked for here, done by `manage.py work`, seen on the page of the job.

A kind of job is a function `function(given, progress) -> Outcome`, made known in an `AppConfig.ready()`:

    registry.register("backup", run_backup, title=_("Backup"))

`given` is what the job was asked with, as JSON keeps it. The function may

- call `progress.say(done, of, words)` as often as it likes: it tells the page how far it is, and is where a cancelled
  job ends (it raises `Cancelled`, to be let through; clean up in a `finally`);
- call `progress.no_way_back(words)` before it writes: from then on nobody can cancel it;
- write its files into `progress.folder`, which is its own and is swept a week after it ended;
- raise `Refused`, whose sentence becomes the words of a failed job.

It returns `Outcome(words, file)`: a sentence on what came of it, and the file in `progress.folder` to be fetched.

A screen asks with `ask("backup", by=person, at=now, given={})` and redirects to the page of the job it gets back.
"""

from tooling.services.jobs import registry
from tooling.services.jobs.asking import ask, cancel
from tooling.services.jobs.progress import Cancelled, Interrupted, Outcome, Progress

__all__ = ["Cancelled", "Interrupted", "Outcome", "Progress", "ask", "cancel", "registry"]
