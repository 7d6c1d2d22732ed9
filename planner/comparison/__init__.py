"""E2: options side by side, exactly and without a search: gear, leads and paths that differ, the price by causes."""
