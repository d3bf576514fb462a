// A shared tablet that nobody touches goes back to its rows, unless words were typed that would be lost with the page.
const { rows } = document.currentScript.dataset;
const IDLE = 120_000;
let timer;
const typed = () => [...document.querySelectorAll("main textarea, main input:not([type=hidden], [type=radio], [type=checkbox], [data-never-kept])")]
  .some((field) => field.value !== field.defaultValue);
const unsent = () => document.querySelector(".sending .deed") !== null;
const again = () => {
  clearTimeout(timer);
  timer = setTimeout(() => (typed() || unsent() ? again() : location.assign(rows)), IDLE);
};
if (location.pathname !== rows) {
  for (const kind of ["pointerdown", "keydown", "scroll"]) addEventListener(kind, again, { passive: true });
  again();
}
