{
  // Another stock, another size: shown at once, and the page stays where it was.
  const how = document.getElementById("how");
  const show = document.getElementById("show");
  const KEY = "tags-at";
  if (how && show) {
    how.addEventListener("change", (event) => {
      const own = how.querySelector("[name=stock][value=custom]").checked;
      const size = [...how.querySelectorAll("[name=wide], [name=high]")];
      if (["start", "sure"].includes(event.target.name)) return;
      if (own && size.some((one) => one.value.trim() === "")) return;
      sessionStorage.setItem(KEY, String(scrollY));
      how.requestSubmit(show);
    });
    const at = sessionStorage.getItem(KEY);
    sessionStorage.removeItem(KEY);
    if (at !== null && !document.querySelector("main [role=alert]")) scrollTo(0, Number(at));
  }
}
