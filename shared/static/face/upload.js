// Pictures go up one by one, with a bar; what is refused is named, what did not get through is kept to be sent again.
// Without this they go up in one piece.
for (const form of document.querySelectorAll("form[data-upload]")) {
  const [going, wrong, seen] = [".going", ".error[role=alert]:not(p)", ".all-in"].map((part) => form.querySelector(part));
  const [bar, said] = [going.querySelector("progress"), going.querySelector("p")];
  const button = form.querySelector("button[type=submit]");
  const inputs = [...form.querySelectorAll("input[type=file]")];
  const [add, words] = [button.textContent, going.dataset];
  const where = (file) => file.webkitRelativePath || file.name;

  const send = (file, show) =>
    new Promise((resolve) => {
      const data = new FormData(form);
      data.delete("files");
      data.append("files", file);
      if (file.webkitRelativePath) data.set("inside", file.webkitRelativePath);
      const failed = { added: 0, there: 0, refused: [`${file.name}: ${words.failed}`], failed: true };
      const request = new XMLHttpRequest();
      request.open("POST", location.pathname);
      request.setRequestHeader("Accept", "application/json");
      request.responseType = "json";
      request.upload.addEventListener("progress", (event) => show(event.loaded));
      request.addEventListener("load", () => resolve(request.status === 200 && request.response ? request.response : failed));
      for (const end of ["error", "abort", "timeout"]) request.addEventListener(end, () => resolve(failed));
      request.send(data);
    });

  const keep = (left) => {
    for (const input of inputs) {
      const chosen = new DataTransfer();
      for (const file of input.files) if (left.includes(file)) chosen.items.add(file);
      input.files = chosen.files;
    }
  };

  const tell = (counts, refused, files) => {
    const line = (name) => (counts[name] ? words[name].replace("%(n)s", counts[name]) : "");
    const list = document.createElement("ul");
    list.append(...refused.map((why) => Object.assign(document.createElement("li"), { textContent: why })));
    const head = Object.assign(document.createElement("p"), { textContent: words.wrong.replace("%(n)s", files) });
    wrong.replaceChildren(...(files ? [head] : []), list);
    said.textContent = [line("added"), line("there")].filter(Boolean).join(" ");
    wrong.hidden = !refused.length;
    if (seen) seen.hidden = !counts.added;
  };

  const showNew = async () => {
    const shown = document.querySelector("[data-shown]");
    const page = shown && (await fetch(location.pathname).then((reply) => reply.text()).catch(() => ""));
    const now = page && new DOMParser().parseFromString(page, "text/html").querySelector("[data-shown]");
    if (now) shown.replaceWith(now);
  };

  form.addEventListener("submit", async (event) => {
    const files = inputs.flatMap((input) => [...input.files]);
    if (!files.length) return; // the server says what is missing
    event.preventDefault();
    files.sort((a, b) => where(a).localeCompare(where(b), undefined, { numeric: true }));
    button.disabled = true;
    going.hidden = false;
    wrong.hidden = true;
    if (seen) seen.hidden = true;
    const total = files.reduce((sum, file) => sum + file.size, 0) || 1;
    const [counts, refused] = [{ added: 0, there: 0 }, []];
    let [left, sent, stopped] = [[], 0, false];
    for (const [index, file] of files.entries()) {
      said.textContent = words.going.replace("%(n)s", index + 1).replace("%(of)s", files.length);
      const reply = await send(file, (loaded) => { bar.value = (100 * (sent + Math.min(loaded, file.size))) / total; });
      counts.added += reply.added;
      counts.there += reply.there;
      refused.push(...reply.refused);
      sent += file.size;
      if (reply.failed) left.push(file);
      if (!reply.stop) continue;
      [stopped, left] = [true, [...left, ...files.slice(index)]];
      break;
    }
    bar.value = 100;
    tell(counts, refused, stopped ? 0 : refused.length);
    if (refused.length) keep(left); // words stay
    else form.reset();
    button.textContent = left.length && !stopped ? words.again : add;
    button.disabled = false;
    await showNew();
  });
}
