"""The commands of `dewbook`, one module each: a module here with register(subparsers) is found by server.cli.

A command imports what is heavy inside its function, so that the others start fast and without the server's libraries.
"""
