"""What to mind while cutting and gluing: short, and second to what the makers say."""

BLADES = (
    "Blades: fit a sharp one, cut on a mat and away from your fingers, close the knife before you put it "
    "down; keep hands off a running machine."
)
GLUE = (
    "Glue: use little, keep it off what shows through the opening, off skin and eyes; let fresh air in, "
    "press under something flat until dry."
)
SMALL_PARTS = (
    "Small parts: keep pieces and cut-outs away from small children and pets; they can be swallowed."
)
MAKERS = "For your machine, blades, papers and glue, the maker's own instructions come first."

FOR_CUTTING = (BLADES, SMALL_PARTS, MAKERS)
FOR_GLUING = (GLUE, SMALL_PARTS, MAKERS)
