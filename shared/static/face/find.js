const ask = document.getElementById("ask");
const found = document.getElementById("found");
const told = document.getElementById("told");
const unanswered = document.getElementById("unanswered");

// Once the form is sent off the page is left: nothing more is asked for what was typed.
let leaving = false;
ask.addEventListener("submit", () => { leaving = true; });
ask.addEventListener("htmx:beforeRequest", (event) => leaving && event.preventDefault());
addEventListener("pageshow", () => { leaving = false; });

// What is left empty asks nothing, and need not stand in the address.
ask.addEventListener("formdata", (event) => {
  for (const [name, value] of [...event.formData]) if (value === "") event.formData.delete(name);
});

// Without an answer the old list stays, and must not pass for what was asked.
const stale = (words) => {
  found.classList.toggle("stale", words !== "");
  unanswered.textContent = words;
  unanswered.hidden = words === "";
};
ask.addEventListener("htmx:sendError", () => stale(unanswered.dataset.noSignal));
ask.addEventListener("htmx:responseError", () => stale(unanswered.dataset.noAnswer));
addEventListener("online", () => {
  if (!unanswered.hidden) ask.dispatchEvent(new Event("input", { bubbles: true }));
});

// How many there are now is read out, the list itself is not.
document.addEventListener("htmx:afterSwap", () => {
  stale("");
  told.textContent = document.querySelector("#found .told p")?.textContent ?? "";
});
