"""Which parts are in doubt: made since a tool was last looked at, or while a lot lay on it; and the marks on them."""
