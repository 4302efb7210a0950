"""For people who write tables: a checker, a standing panel of heaps, differences, a starter, a
schema for editors.
"""
