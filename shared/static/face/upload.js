// Pictures go up one by one, with a bar; what is refused is named. Without this they go up in one piece.
for (const form of document.querySelectorAll("form[data-upload]")) {
  const [going, wrong, seen] = [".going", ".error[role=alert]:not(p)", ".all-in"].map((part) => form.querySelector(part));
  const [bar, said] = [going.querySelector("progress"), going.querySelector("p")];
  const button = form.querySelector("button[type=submit]");

  const send = (file, show) =>
    new Promise((resolve) => {
      const data = new FormData(form);
      data.delete("files");
      data.append("files", file);
      if (file.webkitRelativePath) data.set("inside", file.webkitRelativePath);
      const failed = { added: 0, refused: [`${file.name}: ${form.dataset.failed}`] };
      const request = new XMLHttpRequest();
      request.open("POST", location.pathname);
      request.setRequestHeader("Accept", "application/json");
      request.responseType = "json";
      request.upload.addEventListener("progress", (event) => show(event.loaded));
      request.addEventListener("load", () => resolve(request.status === 200 && request.response ? request.response : failed));
      request.addEventListener("error", () => resolve(failed));
      request.send(data);
    });

  const tell = (added, refused) => {
    const list = document.createElement("ul");
    list.append(...refused.map((words) => Object.assign(document.createElement("li"), { textContent: words })));
    const head = Object.assign(document.createElement("p"), { textContent: form.dataset.wrong });
    if (refused.length) wrong.replaceChildren(head, list);
    said.textContent = form.dataset.added.replace("%(n)s", added);
    wrong.hidden = !refused.length;
    seen.hidden = !added;
  };

  form.addEventListener("submit", async (event) => {
    const files = [...form.querySelectorAll("input[type=file]")].flatMap((input) => [...input.files]);
    if (!files.length) return; // the server says what is missing
    event.preventDefault();
    button.disabled = true;
    going.hidden = false;
    wrong.hidden = seen.hidden = true;
    const total = files.reduce((sum, file) => sum + file.size, 0) || 1;
    const refused = [];
    let [sent, added] = [0, 0];
    for (const [index, file] of files.entries()) {
      said.textContent = form.dataset.going.replace("%(n)s", index + 1).replace("%(of)s", files.length);
      const reply = await send(file, (loaded) => { bar.value = (100 * (sent + Math.min(loaded, file.size))) / total; });
      added += reply.added;
      refused.push(...reply.refused);
      sent += file.size;
    }
    bar.value = 100;
    if (!refused.length && !("stay" in form.dataset)) return location.assign(location.pathname);
    tell(added, refused);
    for (const input of form.querySelectorAll("input[type=file]")) input.value = ""; // words stay
    button.disabled = false;
  });
}
