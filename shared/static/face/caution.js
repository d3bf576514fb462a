// A caution that is folded away stays so for a shift on this device. Without this it is open again on the next page.
{
  const NAME = "folded_cautions";
  const HOURS = 10;
  const kept = () => new Set((document.cookie.match(new RegExp(`(?:^|; )${NAME}=([a-z_.]*)`))?.[1] ?? "").split(".").filter(Boolean));
  for (const caution of document.querySelectorAll("details[data-caution]")) {
    caution.addEventListener("toggle", () => {
      const folded = kept();
      folded[caution.open ? "delete" : "add"](caution.dataset.caution);
      document.cookie = `${NAME}=${[...folded].join(".")}; path=/; max-age=${HOURS * 3600}; samesite=lax`;
    });
  }
}
