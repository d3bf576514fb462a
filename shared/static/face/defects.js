// A tap on the picture sets the ring at once; without this file the tap goes to the server, which sets it.
{
  const SVG = "http://www.w3.org/2000/svg";
  for (const part of document.querySelectorAll("[data-tap]")) {
    const form = part.closest("form");
    const inputs = [...part.querySelectorAll('input[type="image"]')];
    const ring = (input, x, y) => {
      const wide = input.width, high = input.height;
      const drawn = document.createElementNS(SVG, "svg");
      drawn.setAttribute("class", "mark-ring");
      drawn.setAttribute("viewBox", `0 0 ${wide} ${high}`);
      for (const name of ["ring-under", "ring-over"]) {
        const one = document.createElementNS(SVG, "circle");
        one.setAttribute("class", name);
        one.setAttribute("cx", (x * wide) / 1000);
        one.setAttribute("cy", (y * high) / 1000);
        one.setAttribute("r", Math.min(wide, high) * 0.07);
        drawn.append(one);
      }
      input.parentElement.querySelector(".mark-ring")?.remove();
      input.after(drawn);
    };
    for (const input of inputs) {
      input.addEventListener("click", (event) => {
        if (!event.detail) return; // a key
        event.preventDefault();
        const box = input.getBoundingClientRect();
        const part1000 = (at, from, long) => Math.min(1000, Math.max(0, Math.round(((at - from) * 1000) / long)));
        const x = part1000(event.clientX, box.left, box.width), y = part1000(event.clientY, box.top, box.height);
        form.elements.x.value = x;
        form.elements.y.value = y;
        for (const one of form.querySelectorAll('[name="field"]:checked')) one.checked = false;
        for (const one of inputs) ring(one, x, y);
      });
    }
    // A field that is chosen afterwards stands.
    for (const one of form.querySelectorAll('[name="field"]')) one.addEventListener("change", () => { form.elements.x.value = form.elements.y.value = ""; for (const old of part.querySelectorAll(".mark-ring")) old.remove(); });
  }
}
