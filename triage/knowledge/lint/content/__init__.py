"""Rules for what is known: ids, figures, sources, signs and strengths."""
