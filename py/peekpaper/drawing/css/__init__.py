"""Values and declarations of CSS."""
