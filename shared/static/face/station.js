// A shared tablet that nobody touches goes back to its rows, unless something would be lost with the page: words, a tick or
// a picture that nobody has sent, or a deed that was refused and is not written yet. Then only the name goes: who comes
// next says whose hands. What was just written stays open for what else is seen on it, and no longer than `data-idle`.
const { rows } = document.currentScript.dataset;
const IDLE = 120_000;
let timer;
const changed = (field) => {
  if (field.matches("[type=radio], [type=checkbox]")) return field.checked !== field.defaultChecked;
  if (field.localName !== "select") return field.value !== field.defaultValue;
  const first = Math.max(0, [...field.options].findIndex((option) => option.defaultSelected));
  return !field.multiple && field.selectedIndex !== first;
};
// A name alone is no work, and must not stay chosen.
const typed = () => [...document.querySelectorAll("main :is(textarea, select, input:not([type=hidden], [name=by], [data-never-kept]))")].some(changed);
const isOnItsWay = () => document.querySelector(".sending") !== null;
const isRefused = () => document.querySelector("main :is([data-unwritten], form[data-typed])") !== null;
const idle = () => {
  if (!typed() && !isRefused() && !isOnItsWay()) return location.assign(rows);
  // The page waits for whoever typed it; the PIN does not, or the next hand would sign with it.
  for (const field of document.querySelectorAll("[data-never-kept]")) field.value = "";
  // What is on its way keeps the hand that sent it.
  if (!isOnItsWay()) for (const name of document.querySelectorAll("main [type=radio][name=by]:checked")) name.checked = false;
  again();
};
const again = () => {
  clearTimeout(timer);
  timer = setTimeout(idle, Number(document.querySelector("main [data-idle]")?.dataset.idle ?? IDLE));
};
if (location.pathname !== rows) {
  for (const kind of ["pointerdown", "keydown", "scroll"]) addEventListener(kind, again, { passive: true });
  again();
}
