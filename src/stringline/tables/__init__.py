"""Cuts, order and parts as CSV and as a workbook."""
