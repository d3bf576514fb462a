"""What to try in the demo."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from shared.access import can_read, is_station, needs
from tooling.models import STRIP, Shop
from tooling.selectors.demo import ticks
from tooling.services.demo_steps import tick
from tooling.views.door import pin_to_say


@needs(can_read)
@require_http_methods(["GET", "HEAD", "POST"])
def try_demo(request: HttpRequest) -> HttpResponse:
    """Five steps for this role, each ticked by what was written, or by a tap; a shop that is no demo has the board."""
    shop = Shop.current()
    if shop.demo_since is None:
        return redirect("board")
    if request.method == "POST":
        step, done = request.POST.get("step", ""), request.POST.get("done") == "yes"
        tick(request.user, step, done=done)
        put_away = step == STRIP and done
        return redirect(("wall" if is_station(request.user) else "board") if put_away else "try_demo")
    context = {
        "ticks": ticks(request.user, shop),
        "shop": shop,
        "pin": pin_to_say(request) if is_station(request.user) else "",
    }
    return render(request, "tooling/try_demo.html", context)
