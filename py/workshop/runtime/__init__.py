"""The browser's Python: where its parts come from and how they become what the site ships."""
