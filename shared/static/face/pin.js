// Digits for a PIN that a glove can tap. Without this the tablet shows its own keys, or a keyboard types.
for (const box of document.querySelectorAll(".pin-box")) {
  const input = box.querySelector("input");
  const pad = document.createElement("div");
  const key = (word, press) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = word;
    button.addEventListener("click", press);
    return button;
  };
  pad.className = "pad";
  for (const digit of "1234567890") pad.append(key(digit, () => { if (input.value.length < input.maxLength) input.value += digit; }));
  const rub = key("⌫", () => { input.value = input.value.slice(0, -1); });
  rub.setAttribute("aria-label", box.dataset.rub);
  rub.className = "rub-digit";
  input.inputMode = "none";
  input.after(rub);
  box.append(pad);
  // Asked once more: the digits have to be in sight, and they came only now.
  if (document.activeElement === box.closest("fieldset")) box.scrollIntoView({ block: "center" });
  // The PIN of one name is not that of the next.
  input.form.addEventListener("change", (event) => { if (event.target.name === "by") { input.value = ""; } });
  // Nothing of it comes back with the page.
  addEventListener("pageshow", (event) => { if (event.persisted) input.value = ""; });
}
