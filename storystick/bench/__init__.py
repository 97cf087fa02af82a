"""The page to work at: jobs drawn while they are typed, in a browser on this machine.

Its rooms know each other in this order, and never the other way: where things stand in a file (``places``,
``declared``, ``file_kinds``, ``said``, ``lines``), ``files``, ``editing``, ``fields``, what is read and kept
(``print_run``, ``print_plan``, ``state``, ``draft``, ``asked``), ``pictures``, ``guard``, ``tabs``, ``pages``, and what
joins and serves them (``app``, ``serving``). A draft is held by the browser: each request brings its text, and each
answer brings it back.
"""
