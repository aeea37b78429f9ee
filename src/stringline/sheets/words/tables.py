"""The tables of a book as files for a spreadsheet: names of a workbook's sheets, heads of its columns, workings."""

WORDS: dict[str, str | tuple[str, str]] = {
    "tables.parts": "Parts",
    "tables.order": "Order",
    "tables.cuts": "Cuts",
    # the columns, by their names in the CSV files
    "tables.column.key": "Key",
    "tables.column.mark": "Mark",
    "tables.column.name": "Piece",
    "tables.column.side": "Side",
    "tables.column.count": "Count",
    "tables.column.length": "Length",
    "tables.column.length_m": "Length, m",
    "tables.column.sigma_m": "σ, m",
    "tables.column.basis": "From",
    "tables.column.stage": "Stage",
    "tables.column.material": "Material",
    "tables.column.working": "Working",
    "tables.column.supplier": "Supplier",
    "tables.column.item": "Item",
    "tables.column.figure": "Figure",
    "tables.column.amount": "Amount",
    "tables.column.value_si": "Amount, SI",
    "tables.column.kind": "Kind",
    "tables.column.sigma_si": "σ, SI",
    "tables.column.note": "Note",
    "tables.column.rule": "Counted by",
    # a working in one line
    "tables.term": "{size} {label}",
    "tables.plus": "plus {size} {label}",
    "tables.minus": "minus {size} {label}",
}
