"""The papers of one option: what goes to the client, the supplier, the solderer and the person on the ladder."""
