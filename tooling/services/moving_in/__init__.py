"""Moving in on the screen: a shop's own workbook or tables, matched to ours, tried, mended and brought in.

`files` keeps what was uploaded, `tables` reads it as it is, `looking` finds its columns, `matching` remembers what
they are among ours, `ours` says it in our words, `joined` puts it together as the importer wants it, `trying` does both
jobs, `marking` writes the workbook to be mended. `template` and `leaving` give out a form to fill in, and the shop.
"""
