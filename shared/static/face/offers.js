// Words that are offered under a field are put into it with one tap, behind what stands there. Without this it is typed.
for (const offers of document.querySelectorAll(".offers[data-for]")) {
  const field = document.getElementById(offers.dataset.for);
  offers.hidden = false;
  offers.addEventListener("click", ({ target }) => {
    if (!target.matches("button")) return;
    const said = field.value.split(",").map((word) => word.trim()).filter(Boolean);
    if (!said.includes(target.textContent)) said.push(target.textContent);
    field.value = said.join(", ");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}
