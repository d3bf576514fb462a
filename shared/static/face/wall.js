// Keeps the rows fresh by themselves. While somebody is at the tablet no row changes its place, and none changes at all
// under a finger; after a while without a touch they are sorted anew.
const LOOK = 30_000, HAND_OFF = 4_000, SORT = 120_000;
const unanswered = document.getElementById("unanswered");
let touched = Date.now();
for (const kind of ["pointerdown", "pointermove", "keydown", "scroll"]) addEventListener(kind, () => { touched = Date.now(); }, { passive: true });

const look = () => {
  const still = Date.now() - touched;
  if (document.hidden || still < HAND_OFF) return;
  const rows = document.getElementById("rows");
  htmx.ajax("GET", still > SORT ? rows.dataset.sorted : rows.dataset.kept, { source: rows, target: rows, swap: "outerHTML" });
};
setInterval(look, LOOK);
document.addEventListener("visibilitychange", look);
addEventListener("online", look);

// Without an answer the rows stay, and must not pass for what is now.
const stale = (words) => { unanswered.textContent = words; unanswered.hidden = words === ""; };
addEventListener("htmx:sendError", () => stale(unanswered.dataset.noSignal));
addEventListener("htmx:responseError", () => stale(unanswered.dataset.noAnswer));
addEventListener("htmx:afterSwap", () => stale(""));
addEventListener("htmx:beforeSwap", (event) => {
  // The door, where the tablet was signed out meanwhile.
  if (!event.detail.xhr.responseURL.includes(document.getElementById("rows").dataset.sorted)) {
    event.detail.shouldSwap = false;
    location.reload();
  } else if (Date.now() - touched < HAND_OFF) event.detail.shouldSwap = false;
});

const clock = document.querySelector("[data-clock]");
// Counted on from the shop's own clock: a tablet's may be wrong.
const ahead = Date.parse(clock.dateTime) - Date.now();
const said = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: clock.dataset.zone });
setInterval(() => { clock.textContent = said.format(new Date(Date.now() + ahead)); }, 5_000);
