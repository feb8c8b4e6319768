"""What do the pages ask, and who answers? One module a subject, each with a `router`.

An answer calls the floors below, or a command's own answer through `common.ask`, and hands the
data on unchanged: the page, the command's --json and the paper are made from the same figures.
"""
