"""One page, one file, one template of the same name. Every page function takes (request, book, params) and is pure."""
