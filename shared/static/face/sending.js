// A deed is sent from its page: what does not get through says so, stays as it was typed, and can be sent again. The
// token in the form makes twice once. Without this a form is sent by the browser itself.
{
  const { dataset: words } = document.currentScript;
  // Milliseconds: until it is said that there is no answer yet; until none is waited for any more; between quiet tries.
  const [SLOW, LONGEST, PAUSES] = [8_000, 40_000, [5_000, 10_000, 20_000, 30_000, 60_000]];
  const BYTES_A_SECOND = 10_000; // of pictures, where the signal is poor
  const KEPT = 'input:not([type="hidden"], [type="password"], [type="file"], [name="pin"], [data-never-kept]), select, textarea';
  const [going, held] = [new Map(), new Map()]; // what is on its way, and what is not through yet, by its form
  const began = new Map(); // when a deed was first sent that did not get through at once, by its token

  const isDeed = (form) =>
    form instanceof HTMLFormElement && form.getAttribute("method") === "post" &&
    form.querySelector('input[name="token"]') && !form.matches("[data-upload], [hx-post]");
  const token = (form) => form.querySelector('input[name="token"]');
  const address = (form, pressed) =>
    new URL(pressed?.getAttribute?.("formaction") || form.getAttribute("action") || location.href, location.href);

  // ---- what was typed, kept for this tab alone; at a shared tablet nothing outlives the page ----
  const place = (form) => `typed ${address(form).pathname}`;
  const fields = (form) => [...form.elements].filter((one) => one.name && one.matches(KEPT));
  const stands = (one) => (["checkbox", "radio"].includes(one.type) ? one.checked : one.value);
  const keep = (form, more = {}) => {
    if ("station" in words || !token(form).value) return;
    const typed = fields(form).map((one) => [one.name, one.type === "radio" || one.type === "checkbox" ? one.value : "", stands(one)]);
    const files = [...form.elements].some((one) => one.type === "file" && one.files.length);
    try {
      sessionStorage.setItem(place(form), JSON.stringify({ token: token(form).value, typed, files, ...more }));
    } catch { /* no room, or not allowed: then it stays on the page only */ }
  };
  const forget = (form) => { try { sessionStorage.removeItem(place(form)); } catch { /* nothing was kept */ } };
  const kept = (form) => { try { return JSON.parse(sessionStorage.getItem(place(form))); } catch { return null; } };
  const putBack = (form, draft) => {
    let changed = false;
    for (const one of fields(form)) {
      const own = one.type === "radio" || one.type === "checkbox" ? one.value : "";
      const was = draft.typed.find(([name, value]) => name === one.name && value === own)?.[2];
      if (was === undefined || was === stands(one)) continue;
      changed = true;
      if (typeof was === "boolean") one.checked = was;
      else one.value = was;
      for (let fold = one.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    }
    return changed;
  };

  // ---- what is said of it, at the foot of the form ----
  const say = (form, text, again) => {
    let slip = form.querySelector(":scope > .sending");
    if (!slip) {
      slip = Object.assign(document.createElement("div"), { className: "sending" });
      slip.setAttribute("role", "alert");
      form.append(slip);
    }
    const said = Object.assign(document.createElement("p"), { textContent: text });
    slip.replaceChildren(said);
    if (!again) return;
    const button = Object.assign(document.createElement("button"), { type: "button", className: "deed big first", textContent: words.again });
    button.addEventListener("click", () => send(form, again.pressed, true));
    slip.append(button);
  };
  const hush = (form) => form.querySelector(":scope > .sending")?.remove();

  // ---- sending ----
  const body = (form, pressed, first) => {
    const data = new FormData(form);
    if (pressed?.name) data.append(pressed.name, pressed.value);
    const waited = Math.round((Date.now() - first) / 1000);
    if (waited > 0) data.set("waited", waited);
    return form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
  };
  const weight = (form) => [...form.elements].flatMap((one) => [...(one.files ?? [])]).reduce((sum, file) => sum + file.size, 0);

  async function send(form, pressed, anew = false) {
    if (going.has(form)) {
      if (!anew) return;
      going.get(form).abort();
    }
    const before = held.get(form);
    clearTimeout(before?.timer);
    const now = { pressed, first: before?.first ?? began.get(token(form).value) ?? Date.now(), tries: before?.tries ?? 0 };
    const turn = new AbortController();
    going.set(form, turn);
    held.set(form, now);
    keep(form, { first: now.first, pressed: pressed && { name: pressed.name, value: pressed.value } });
    const waits = [
      setTimeout(() => form.querySelector(":scope > .sending") || say(form, words.sending), 700),
      setTimeout(() => say(form, words.slow, now), SLOW),
      setTimeout(() => turn.abort(), LONGEST + (1000 * weight(form)) / BYTES_A_SECOND),
    ];
    try {
      const reply = await fetch(address(form, pressed), {
        method: "POST", body: body(form, pressed, now.first), headers: { "X-Sending": "1" }, signal: turn.signal,
      });
      const page = await reply.text();
      if (going.get(form) !== turn) return;
      if (reply.headers.has("Go-To")) return through(form, reply.headers.get("Go-To"));
      if (reply.status >= 500) notYet(form, now, reply.status, new DOMParser().parseFromString(page, "text/html"));
      else show(form, reply, page);
    } catch {
      if (going.get(form) === turn) notYet(form, now);
    } finally {
      waits.forEach(clearTimeout);
    }
  }

  // Taps while the next page comes are left out: the form stays on its way.
  const through = (form, to) => {
    held.delete(form);
    if (new URL(to, location.href).pathname !== words.door) forget(form);
    const there = new URL(to, location.href);
    location.assign(there);
    // To a place on this very page alone a browser does not load anything.
    if (there.hash && there.pathname + there.search === location.pathname + location.search) location.reload();
  };

  const notYet = (form, now, status, page) => {
    going.delete(form);
    const said = page?.querySelector("[data-not-through]")?.textContent;
    say(form, said ? `${said} ${words.stays}` : status ? `${words.fault} ${words.stays}` : words.failed, now);
    // A fault of the program does not mend by trying; a signal comes back.
    if (status && !said) return;
    const pause = PAUSES[Math.min(now.tries++, PAUSES.length - 1)];
    began.set(token(form).value, now.first);
    now.timer = setTimeout(() => send(form, now.pressed), pause);
  };
  addEventListener("online", () => { for (const [form, now] of held) if (!going.has(form)) send(form, now.pressed); });
  addEventListener("beforeunload", (event) => { if (held.size) event.preventDefault(); });
  addEventListener("pageshow", (event) => { if (event.persisted) going.clear(); });

  // The page as the server gave it: with what is wrong at its field, and all that was typed.
  const show = (form, reply, text) => {
    going.delete(form);
    held.delete(form);
    const page = new DOMParser().parseFromString(text, "text/html");
    const main = page.querySelector("main");
    if (!main) return location.reload();
    if (reply.status === 409) forget(form);
    for (const sheet of page.querySelectorAll('link[rel="stylesheet"]')) {
      if (!document.querySelector(`link[href="${sheet.getAttribute("href")}"]`)) document.head.append(sheet);
    }
    document.title = page.title;
    document.querySelector("main").replaceWith(main);
    // A script that came as text does not run by itself.
    for (const script of main.querySelectorAll("script[src]")) {
      script.replaceWith(Object.assign(document.createElement("script"), { src: script.src }));
    }
    for (const chosen of form.querySelectorAll('input[type="file"]')) {
      const same = main.querySelector(`input[type="file"][name="${CSS.escape(chosen.name)}"]`);
      if (same && chosen.files.length) same.files = chosen.files;
    }
    globalThis.htmx?.process(main);
    scrollTo(0, 0);
    const first = main.querySelector("[autofocus]") ?? main;
    first.focus();
    first.select?.(); // a scanner types at once, over what stands there
  };

  document.addEventListener("submit", (event) => {
    // Where a picture was tapped only the browser itself sends along.
    if (event.defaultPrevented || !isDeed(event.target) || event.submitter?.type === "image") return;
    event.preventDefault();
    send(event.target, event.submitter);
  });
  const typing = ({ target }) => {
    const form = target.form;
    if (!isDeed(form)) return;
    const now = held.get(form);
    keep(form, now && { first: now.first, pressed: now.pressed && { name: now.pressed.name, value: now.pressed.value } });
  };
  for (const kind of ["input", "change"]) document.addEventListener(kind, typing);

  // ---- back on the page ----
  const way = performance.getEntriesByType("navigation")[0]?.type;
  const cameBack = document.wasDiscarded || ["reload", "back_forward"].includes(way);
  for (const form of [...document.forms].filter(isDeed)) {
    const draft = kept(form);
    if (!draft || draft.token === token(form).value) continue;
    if (!draft.first && !cameBack) forget(form);
    else {
      const changed = putBack(form, draft);
      if (changed || draft.first) token(form).value = draft.token;
      const files = draft.files ? ` ${words.files}` : "";
      if (draft.first) {
        const { name, value } = draft.pressed ?? {};
        const pressed = name ? form.querySelector(`button[name="${CSS.escape(name)}"][value="${CSS.escape(value)}"]`) : null;
        const now = { pressed: pressed ?? draft.pressed, first: draft.first, tries: 0 };
        held.set(form, now);
        say(form, words.failed + files, now);
      } else if (changed) say(form, words.back + files);
    }
  }
}
