"""The trade workbook: an XLSX file with live formulas from cost to margin, tax and total."""
