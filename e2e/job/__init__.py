"""The job from design to gluing, as a person does it in the page."""
