// The zone of this machine, where the one of the server says nothing. Without this it is typed.
for (const field of document.querySelectorAll("[data-own-zone]")) {
  const own = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if (own && field.value === field.dataset.ownZone) field.value = own;
}
