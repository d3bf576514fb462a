"""A shop as sheets: what goes in from a workbook or a folder of tables, and comes out again.

One module a sheet, with both directions side by side; `registry` knows them, `importing` and `exporting` drive them.
"""
