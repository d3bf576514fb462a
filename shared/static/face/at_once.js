// Both tags of a move were opened: the page sends what it says by itself. Without this the button does.
document.querySelector("form[data-at-once]")?.requestSubmit();
