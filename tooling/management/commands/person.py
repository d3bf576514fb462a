from argparse import ArgumentParser
from typing import Any

from shared import clock
from shared.commands import ShopCommand
from tooling.models import Role
from tooling.services.people import give_role

NO_ROLE = "none"


class Command(ShopCommand):
    help = "Gives a person, new or known, a role and a new password, which is printed once."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="as it stands beside what the person does; quote it when it has spaces")
        parser.add_argument(
            "--role",
            required=True,
            choices=[*Role.values, NO_ROLE],
            help="reader looks, hand logs deeds, lead does everything, station is a shared tablet, none has no way in",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        role = "" if options["role"] == NO_ROLE else options["role"]
        person, password = give_role(name=options["name"], role=role, at=clock.now())
        if role:
            self.stdout.write(f"{person.name} signs in as {role} with the password {password}")
        else:
            self.stdout.write(f"{person.name} has no way in any more.")
