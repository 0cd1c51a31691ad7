"""The office: Flask host of the desk, the database, accounts, the sync door and the command line.

Importing this package opens nothing; server.app.create_app(settings) builds the application.
"""
