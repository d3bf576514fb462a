from argparse import ArgumentParser

from django.conf import settings
from django.core.management import call_command
from django.urls import reverse

from shared.commands import ShopCommand
from shared.run.address import is_own
from tooling.selectors.shop import is_empty
from tooling.services import demo_logins, first_lead
from tooling.words.demo import in_short


class Command(ShopCommand):
    help = (
        "Fill an empty database with the demo shop, and say how to get in. "
        "A database that holds a shop is left as it is, but for known demo passwords when others are let in."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-demo", action="store_true", help="leave an empty shop empty")
        parser.add_argument(
            "--open-to-house",
            action="store_true",
            help="give new passwords to demo names that have the known one; a SITE_URL of another host does so as well",
        )

    def handle(self, *args, **options) -> None:
        if is_empty():
            self.stdout.write(f"The shop's time zone will be {settings.TIME_ZONE}; set TIME_ZONE for another one.")
            if not options["no_demo"]:
                call_command("demo", stdout=self.stdout)
        # Behind a web server on this machine the shop listens to no other, and yet others reach it.
        if options["open_to_house"] or not is_own(settings.SITE_URL):
            demo_logins.renew()
        self.say_logins()
        if first_lead.is_wanted():
            self.say_first_address()

    def say_logins(self) -> None:
        """The demo's names with the passwords that work, if any."""
        logins = demo_logins.working()
        if not logins:
            return
        self.stdout.write("Sign in to the demo as")
        for login in logins:
            self.stdout.write(f"    {login.name:<12} {login.password:<16} ({login.role}: {in_short(login.role)})")
        if pins := demo_logins.working_pins():
            said = ", ".join(f"{name} {pin}" for name, pin in pins)
            self.stdout.write(f"PINs at the tablet: {said}")

    def say_first_address(self) -> None:
        """Where the first lead of the shop signs up."""
        path = reverse("first_lead", args=[first_lead.new_token()])
        self.stdout.write("Nobody leads this shop yet. The first lead signs up here, once, within a day:")
        self.stdout.write(f"    {settings.SITE_URL}{path}")
