"""The trade's own ideas, with no database, spreadsheet or command line in them."""
