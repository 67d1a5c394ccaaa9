"""What to mind while cutting and gluing: short, and second to what the makers say; keys of its words."""

_SMALL_PARTS = "print.caution-small-parts"
_MAKERS = "print.caution-makers"

FOR_CUTTING = ("print.caution-blades", _SMALL_PARTS, _MAKERS)
FOR_GLUING = ("print.caution-glue", _SMALL_PARTS, _MAKERS)
