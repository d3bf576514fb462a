// A scanner types wherever the cursor is: keys that go nowhere go into the box. Without this it has to be tapped first.
const ask = document.getElementById("ask");
const box = ask.querySelector("input[name=q]");
if (matchMedia("(pointer: fine)").matches) box.focus();
document.addEventListener("keydown", (event) => {
  const elsewhere = event.target !== document.body && event.target.id !== "main";
  if (elsewhere || event.key.length !== 1 || event.key === " " || event.ctrlKey || event.metaKey || event.altKey) return;
  box.focus();
});

// Once the form is sent off the page is left: nothing more is asked for what was typed.
let leaving = false;
ask.addEventListener("submit", () => { leaving = true; });
ask.addEventListener("htmx:beforeRequest", (event) => leaving && event.preventDefault());
addEventListener("pageshow", () => { leaving = false; });

// How many there are now is read out, the list itself is not.
document.addEventListener("htmx:afterSwap", () => {
  document.getElementById("told").textContent = document.querySelector("#found .told p")?.textContent ?? "";
});
