// The time since the last coat, kept running. Without this the page shows the time as it was when it was opened.
for (const clock of document.querySelectorAll("[data-since][data-now]")) {
  const since = Date.parse(clock.dataset.since);
  // Counted on from the shop's own clock: a tablet's may be wrong.
  const ahead = Date.parse(clock.dataset.now) - Date.now();
  const small = (word) => Object.assign(document.createElement("small"), { textContent: ` ${word} ` });
  const show = () => {
    const seconds = Math.max(0, Math.floor((Date.now() + ahead - since) / 1000));
    if (seconds >= 3600) return;
    const { minutes, seconds: word } = clock.dataset;
    clock.replaceChildren(String(Math.floor(seconds / 60)), small(minutes), String(seconds % 60), small(word));
  };
  show();
  setInterval(show, 1000);
}
