// An address is copied with one tap. Without this it is marked and copied by hand.
for (const button of document.querySelectorAll("[data-copy]")) {
  const field = document.getElementById(button.dataset.copy);
  button.hidden = false;
  button.addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
    } catch {
      // by plain http a browser keeps its clipboard to itself
      if (!document.execCommand("copy")) return;
    }
    button.textContent = button.dataset.done;
  });
}
