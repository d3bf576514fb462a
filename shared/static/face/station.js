// A shared tablet that nobody touches goes back to its rows, unless words were typed that would be lost with the page.
const { rows } = document.currentScript.dataset;
const IDLE = 120_000;
let timer;
const typed = () => [...document.querySelectorAll("main textarea, main input:not([type=hidden], [type=radio], [type=checkbox], [data-never-kept])")]
  .some((field) => field.value !== field.defaultValue) || document.querySelector("main form[data-typed]") !== null;
const unsent = () => document.querySelector(".sending .deed") !== null;
const idle = () => {
  if (!typed() && !unsent()) return location.assign(rows);
  // The page waits for whoever typed it; the PIN does not, or the next hand would sign with it.
  for (const field of document.querySelectorAll("[data-never-kept]")) field.value = "";
  again();
};
const again = () => {
  clearTimeout(timer);
  timer = setTimeout(idle, IDLE);
};
if (location.pathname !== rows) {
  for (const kind of ["pointerdown", "keydown", "scroll"]) addEventListener(kind, again, { passive: true });
  again();
}
