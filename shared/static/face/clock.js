// The clock of what went on last, kept running, and the pieces of the page that others change, fetched anew. Without
// this the page shows the time as it was when it was opened. What is typed is never touched.
{
  const live = document.querySelector("[data-live]");
  // Counted on from the shop's own clock: a tablet's may be wrong, and stands still while it sleeps.
  let ahead = 0;
  const heard = (told) => { ahead = Date.parse(told) - Date.now(); };

  const run = () => {
    for (const clock of document.querySelectorAll("[data-since]")) {
      const seconds = Math.max(0, Math.floor((Date.now() + ahead - Date.parse(clock.dataset.since)) / 1000));
      if (seconds >= 3600) continue;
      const small = (word) => Object.assign(document.createElement("small"), { textContent: ` ${word} ` });
      const { minutes, seconds: word } = clock.dataset;
      clock.replaceChildren(String(Math.floor(seconds / 60)), small(minutes), String(seconds % 60), small(word));
    }
  };

  // What a piece says, without the running numbers and whether somebody has opened a fold in it.
  const said = (piece) => {
    const copy = piece.cloneNode(true);
    for (const clock of copy.querySelectorAll("[data-since]")) clock.replaceChildren();
    for (const fold of copy.querySelectorAll("details")) fold.removeAttribute("open");
    return copy.innerHTML;
  };

  const again = async () => {
    if (document.visibilityState !== "visible") return;
    const reply = await fetch(live.dataset.live, { credentials: "same-origin" }).catch(() => null);
    const page = reply?.ok && new DOMParser().parseFromString(await reply.text(), "text/html");
    const told = page && page.querySelector("[data-now]");
    if (!told) return;
    heard(told.dataset.now);
    for (const fresh of told.children) {
      const old = fresh.id && document.getElementById(fresh.id);
      if (old && !("still" in old.dataset) && said(old) !== said(fresh)) old.replaceWith(document.adoptNode(fresh));
    }
    run();
  };

  if (live) {
    heard(live.dataset.now);
    run();
    // Where another page took the place of this one, that one has a clock of its own.
    const gone = new AbortController();
    const clocks = [];
    const here = (act) => () => {
      if (live.isConnected) return act();
      clocks.forEach(clearInterval);
      gone.abort();
    };
    clocks.push(setInterval(here(run), 1000), setInterval(here(again), 25000));
    document.addEventListener("visibilitychange", here(again), { signal: gone.signal });
    addEventListener("pageshow", (shown) => { if (shown.persisted) here(again)(); }, { signal: gone.signal });
  }
}
