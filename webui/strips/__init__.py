"""What a person adds to a sheet: each strip reads its form and works out what belongs to it. No page is made here."""
