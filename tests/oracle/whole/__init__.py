"""The whole question as one mixed-integer programme, as a general-purpose solver would be asked it.

Straightforward, and as sparse as a practised modeller would write it: a variable for each processor with
its cards, a count for each device, and for each feed a variable for each kind of jack that may drive it.
Jacks that read alike on the catalogue's page are one kind; a lead is priced beforehand where its parts
have one price. Feeds are not grouped, and no gear is left out for being dominated. Written against
"How the rules are read" in DEVELOPERS.md and sharing nothing with the planner's own search.
"""
