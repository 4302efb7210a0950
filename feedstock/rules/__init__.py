"""From evidence to verdicts: hypotheses that are raised and cleared by table rows, scores, the
gate.
"""
