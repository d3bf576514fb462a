// Which recipe is the usual one follows the kind that is chosen; without this the list below says it for every kind.
for (const recipe of document.querySelectorAll("select[data-usual]")) {
  const kind = document.getElementById(recipe.dataset.kind);
  const [usual, plain] = [JSON.parse(recipe.dataset.usual), recipe.options[0].text];
  const say = () => { recipe.options[0].text = usual[kind.value] ?? plain; };
  kind.addEventListener("change", say);
  say();
}
