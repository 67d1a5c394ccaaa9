"""What to mind while cutting and gluing: short, and second to what the makers say."""

BLADES = (
    "Blades: fit a sharp one, cut away from your fingers on a cutting mat, "
    "and close the knife before you put it down."
)
GLUE = "Glue: use little, let fresh air in, keep it off skin and eyes."
SMALL_PARTS = (
    "Small parts: keep pieces and cut-outs away from small children and pets; they can be swallowed."
)
MAKERS = "For your machine, blades, papers and glue, the maker's own instructions come first."

FOR_CUTTING = (BLADES, SMALL_PARTS, MAKERS)
FOR_GLUING = (GLUE, SMALL_PARTS, MAKERS)
