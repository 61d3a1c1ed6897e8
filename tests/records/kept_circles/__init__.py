"""Filled databases of earlier revisions, kept, and the command that made them.

"0004.sqlite.xz" and "0004.postgresql.sql.xz" each hold a circle at revision 0004: the demo's, two months after its
closing day, all of them lived on that database, and a second of three households. All people and secrets are
invented. "0004.sqlite.json" and "0004.postgresql.json" tell how many rows each table had, a digest of each, and what
the program of that day read in it.
"""
