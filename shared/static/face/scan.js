// A scanner is a keyboard: it types wherever the cursor is, and behind what stands there. Keys that go nowhere go into the
// box, and what stands in it when they come is replaced. Without this the box has to be tapped, and emptied, first.
{
  const scans = document.querySelector("[data-scan]");
  const nowhere = (target) => !target.matches("input:not([type=radio], [type=checkbox]), textarea, select");
  const ready = () => { scans.focus({ preventScroll: true }); scans.select(); };

  // Not on a glass that would put its keys over the page; nor where somebody was quicker than this.
  if (matchMedia("(pointer: fine)").matches && scans.value === scans.defaultValue) ready();
  else if (document.activeElement === scans && scans.value === scans.defaultValue) scans.select();
  addEventListener("pageshow", (event) => event.persisted && document.activeElement === scans && scans.select());
  document.addEventListener("keydown", (event) => {
    if (event.key.length !== 1 || event.key === " " || event.ctrlKey || event.metaKey || event.altKey) return;
    if (nowhere(event.target)) ready();
  });
}
