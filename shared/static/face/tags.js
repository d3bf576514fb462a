{
  // Another stock or marks: shown at once, and the page stays where it was, with what was chosen still in hand.
  const how = document.getElementById("how");
  const show = document.getElementById("show");
  const KEY = "tags-at";
  const SURE = `tags-sure ${location.pathname}${location.search}`;
  const size = how ? [...how.querySelectorAll("[name=wide], [name=high]")] : [];
  if (how && show) {
    how.addEventListener("change", ({ target }) => {
      if (target.name === "sure") sessionStorage.setItem(SURE, target.checked ? "yes" : "");
      // A side is typed after the other: they wait for the button, and nothing moves under the fingers.
      if (["start", "sure", "wide", "high"].includes(target.name)) return;
      if (target.name === "stock") {
        const own = target.value === "custom";
        // Another stock has tags of its own size.
        if (!own) for (const one of size) one.value = "";
        if (own && size.some((one) => one.value.trim() === "")) return size[0].focus();
      }
      sessionStorage.setItem(KEY, JSON.stringify([scrollY, target.name, target.value]));
      how.requestSubmit(show);
    });
    const sure = how.querySelector("[name=sure]");
    if (sure && sessionStorage.getItem(SURE)) sure.checked = true;
    const at = sessionStorage.getItem(KEY);
    sessionStorage.removeItem(KEY);
    if (at !== null && !document.querySelector("main [role=alert]")) {
      const [y, name, value] = JSON.parse(at);
      // After whatever else asks for the focus while the page loads.
      addEventListener("load", () => {
        [...how.elements].find((one) => one.name === name && one.value === value)?.focus({ preventScroll: true });
        scrollTo(0, y);
      });
    }
  }
}
