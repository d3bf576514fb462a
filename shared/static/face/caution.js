// A caution that is folded away stays so for a shift on this device, for the person who folded it. Without this it is
// open again on the next page. At a station nothing is offered to be folded.
{
  const NAME = "folded_cautions";
  const HOURS = 10;
  const kept = (person) => {
    const [whose, ...folded] = (document.cookie.match(new RegExp(`(?:^|; )${NAME}=([0-9a-z_.]*)`))?.[1] ?? "").split(".");
    return new Set(whose === person ? folded : []);
  };
  for (const caution of document.querySelectorAll("details[data-caution]")) {
    caution.addEventListener("toggle", () => {
      const person = caution.dataset.person;
      const folded = kept(person);
      folded[caution.open ? "delete" : "add"](caution.dataset.caution);
      document.cookie = `${NAME}=${[person, ...folded].join(".")}; path=/; max-age=${HOURS * 3600}; samesite=lax`;
    });
  }
}
