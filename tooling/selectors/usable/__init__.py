"""May a tool be used now, and if not, why not: one answer for the start of lay-up and for every list of tools.

Each file beside this one has one family of reasons. An app adds a family of its own with `registry.register`, in its
`AppConfig.ready()`: a function that is given what was asked (`asked.Asked`, read once for all tools) and yields, for
any of the tools, the key of the tool and a reason.
"""
