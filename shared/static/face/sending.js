// A deed is sent from its page: what does not get through says so, stays as it was typed, and can be sent again. The
// token in the form makes twice once. Without this a form is sent by the browser itself.
{
  const { dataset: words } = document.currentScript;
  // Milliseconds: until it is said that there is no answer yet; until none is waited for any more; between quiet tries.
  const [SLOW, LONGEST, PAUSES] = [8_000, 40_000, [5_000, 10_000, 20_000, 30_000, 60_000]];
  const BYTES_A_SECOND = 10_000; // of pictures, where the signal is poor
  const KEPT = 'input:not([type="hidden"], [type="password"], [type="file"], [name="pin"], [data-never-kept]), select, textarea';
  // Hidden, but not what the deed is about: of the one page, or of what it showed of the deed before it was written.
  const OF_THE_PAGE = ["csrfmiddlewaretoken", "token", "waited", "shown", "look"];
  const [going, held] = [new Map(), new Map()]; // what is on its way, and what is not through yet, by its form
  const began = new Map(); // when a deed was first sent that did not get through at once, by its token

  const isDeed = (form) =>
    form instanceof HTMLFormElement && form.getAttribute("method") === "post" &&
    form.querySelector('input[name="token"]') && !form.matches("[data-upload], [hx-post]");
  const token = (form) => form.querySelector('input[name="token"]');
  const address = (form, pressed) =>
    new URL(pressed?.getAttribute?.("formaction") || form.getAttribute("action") || location.href, location.href);

  // ---- what was typed, kept for this tab and this person alone; at a shared tablet nothing outlives the page ----
  const MINE = "typed ";
  const place = (form) => MINE + address(form).pathname + address(form).search;
  const fields = (form) => [...form.elements].filter((one) => one.name && one.matches(KEPT));
  const own = (one) => (["checkbox", "radio"].includes(one.type) ? one.value : "");
  const stands = (one) => (["checkbox", "radio"].includes(one.type) ? one.checked : one.value);
  const about = (form) => JSON.stringify([...form.elements]
    .filter((one) => one.type === "hidden" && one.name && !OF_THE_PAGE.includes(one.name)).map((one) => [one.name, one.value]).sort());
  const button = (one) => one && [one.name, one.value, one.getAttribute("formaction")];
  const asTyped = (form, now) => ({
    person: words.person, token: token(form).value, about: about(form), first: now?.first, pressed: button(now?.pressed),
    typed: fields(form).map((one) => [one.name, own(one), stands(one)]),
    files: [...form.elements].some((one) => one.type === "file" && one.files.length),
  });
  const keep = (form, now) => {
    if ("station" in words || !token(form).value) return;
    try {
      sessionStorage.setItem(place(form), JSON.stringify(asTyped(form, now)));
    } catch { /* no room, or not allowed: then it stays on the page only */ }
  };
  const forget = (form) => { try { sessionStorage.removeItem(place(form)); } catch { /* nothing was kept */ } };
  const kept = (at) => { try { return JSON.parse(sessionStorage.getItem(at)); } catch { return null; } };
  const forgetAll = (but = () => false) => {
    try {
      for (const at of Object.keys(sessionStorage)) if (at.startsWith(MINE) && !but(kept(at))) sessionStorage.removeItem(at);
    } catch { /* nothing was kept */ }
  };
  const putBack = (form, draft) => {
    let changed = false;
    for (const one of fields(form)) {
      const was = draft.typed.find(([name, value]) => name === one.name && value === own(one))?.[2];
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
    // Said once, not at each quiet try.
    if (again && slip?.querySelector(".first") && slip.firstChild.textContent === text) return;
    if (!slip) {
      slip = Object.assign(document.createElement("div"), { className: "sending", tabIndex: -1 });
      slip.setAttribute("role", "alert");
      form.append(slip);
    }
    const here = slip.contains(document.activeElement);
    slip.replaceChildren(Object.assign(document.createElement("p"), { textContent: text }));
    const tap = (word, look, act) => {
      const made = Object.assign(document.createElement("button"), { type: "button", className: `deed big ${look}`, textContent: word });
      made.addEventListener("click", act);
      slip.append(made);
    };
    if (again) tap(words.again, "first", () => send(form, again.pressed, true));
    if (again?.byHand === "restored") tap(words.leave, "", () => leave(form));
    if (here) (slip.querySelector("button") ?? slip).focus();
  };
  const leave = (form) => {
    held.delete(form);
    forget(form);
    location.replace(location.pathname + location.search); // a reload would fill in again what was typed
  };

  // ---- sending ----
  const body = (form, pressed, first) => {
    const data = new FormData(form);
    if (pressed?.name) data.append(pressed.name, pressed.value);
    const waited = Math.round((Date.now() - first) / 1000);
    if (waited > 0) data.set("waited", waited);
    return form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
  };
  const weight = (form) => [...form.elements].flatMap((one) => [...(one.files ?? [])]).reduce((sum, file) => sum + file.size, 0);

  const secret = (form) => [...form.elements].some((one) => one.matches('[type="password"], [name="pin"], [data-never-kept]') && one.value);
  // Without a tap only what this very page sent, while it stands, and no PIN is in it.
  const quietly = (form, now) => form.isConnected && !going.has(form) && !now.byHand && !secret(form) && send(form, now.pressed);

  async function send(form, pressed, anew = false) {
    if (going.has(form)) {
      if (!anew) return;
      going.get(form).abort();
    }
    const before = held.get(form);
    clearTimeout(before?.timer);
    const now = { pressed, first: before?.first ?? began.get(token(form).value) ?? Date.now(), tries: before?.tries ?? 0 };
    now.byHand = secret(form); // a wrong PIN counts each time it is sent
    const turn = new AbortController();
    going.set(form, turn);
    held.set(form, now);
    keep(form, now);
    if (anew) say(form, words.sending);
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
    began.set(token(form).value, now.first);
    const said = page?.querySelector("[data-not-through]")?.textContent;
    say(form, said ? `${said} ${words.stays}` : status ? `${words.fault} ${words.stays}` : words.failed, now);
    // A fault of the program does not mend by trying; a signal comes back.
    if ((status && !said) || now.byHand) return;
    const pause = PAUSES[Math.min(now.tries++, PAUSES.length - 1)];
    now.timer = setTimeout(() => quietly(form, now), pause);
  };
  addEventListener("online", () => { for (const [form, now] of held) quietly(form, now); });
  addEventListener("beforeunload", (event) => { if (held.size) event.preventDefault(); });
  addEventListener("pageshow", (event) => {
    if (!event.persisted) return;
    going.clear();
    for (const [form, now] of held) {
      clearTimeout(now.timer);
      now.byHand = "restored";
      say(form, words.left, now);
    }
  });

  // Other deeds of a page that is replaced: they wait on the next one, for a tap.
  const letGo = (but) => [...held].filter(([form]) => form !== but).map(([form, now]) => {
    clearTimeout(now.timer);
    going.get(form)?.abort();
    going.delete(form);
    held.delete(form);
    return [place(form), asTyped(form, now)];
  });

  // The page as the server gave it: with what is wrong at its field, and all that was typed.
  const show = (form, reply, text) => {
    going.delete(form);
    held.delete(form);
    const page = new DOMParser().parseFromString(text, "text/html");
    const main = page.querySelector("main");
    if (!main) return location.reload();
    forget(form);
    const others = letGo(form);
    const wordy = form.matches("[data-typed]") || fields(form).some((one) => "defaultValue" in one && !own(one) && one.value !== one.defaultValue);
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
    for (const fresh of [...main.querySelectorAll("form")].filter(isDeed)) {
      if (reply.status !== 409 && place(fresh) === place(form) && token(fresh).value === token(form).value) {
        fresh.toggleAttribute("data-typed", wordy); // a shared tablet does not go back to its rows over it
        keep(fresh);
      } else restore(fresh, others.find(([at, draft]) => at === place(fresh) && draft.about === about(fresh))?.[1]);
    }
    scrollTo(0, 0);
    const first = main.querySelector("[autofocus]") ?? main;
    first.focus();
    first.select?.(); // a scanner types at once, over what stands there
  };

  document.addEventListener("submit", (event) => {
    // Where a picture was tapped only the browser itself sends along.
    if (event.target.getAttribute("method") === "post" && address(event.target, event.submitter).pathname === words.out) forgetAll();
    if (event.defaultPrevented || !isDeed(event.target) || event.submitter?.type === "image") return;
    event.preventDefault();
    send(event.target, event.submitter);
  });
  const typing = ({ target }) => {
    const form = target.form;
    if (!isDeed(form)) return;
    keep(form, held.get(form));
  };
  for (const kind of ["input", "change"]) document.addEventListener(kind, typing);

  // ---- back on the page: what is put back is sent by a tap alone, since who looks at it may have forgotten it ----
  const restore = (form, draft) => {
    if (!draft || draft.token === token(form).value) return;
    const pressed = draft.pressed && [...form.elements].find((one) => one.type === "submit" && String(button(one)) === String(draft.pressed));
    if (draft.first && draft.pressed && !pressed) return lost(form);
    const changed = putBack(form, draft);
    if (changed || draft.first) token(form).value = draft.token;
    const files = draft.files ? ` ${words.files}` : "";
    if (draft.first) {
      const now = { pressed, first: draft.first, tries: 0, byHand: "restored" };
      held.set(form, now);
      say(form, words.left + files, now);
    } else if (changed) say(form, words.back + files);
  };
  const lost = (form) => {
    forget(form);
    say(form, words.lost);
  };

  forgetAll((draft) => !("station" in words) && draft?.person === words.person);
  const way = performance.getEntriesByType("navigation")[0]?.type;
  const cameBack = document.wasDiscarded || ["reload", "back_forward"].includes(way);
  const deeds = [...document.forms].filter(isDeed);
  for (const at of new Set(deeds.map(place))) {
    const [draft, forms] = [kept(at), deeds.filter((one) => place(one) === at)];
    const form = forms.find((one) => about(one) === draft?.about);
    if (form && (draft.first || cameBack)) restore(form, draft);
    else if (draft?.first) lost(forms[0]);
    else if (draft) forget(forms[0]);
  }
}
