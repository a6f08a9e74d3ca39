"""What is shown of a step: the step itself, and what it is made of."""
