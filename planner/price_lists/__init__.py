"""A supplier's price list, however it is laid out, to offers of the catalogue.

`sheet` reads any CSV file or workbook into rows of text, `suggest` guesses which column is what,
`reading` says how one supplier's list is to be read (and is remembered for the next), `importing`
turns rows into offers and tells every row that it cannot take, and `offers` puts them into the catalogue.
"""
