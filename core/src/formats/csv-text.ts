/** Rows as comma-separated values by RFC 4180, for every table that is written. */

/** Lines end in CR LF, the last one too. */
export function csvText(rows: readonly (readonly string[])[]): string {
  return rows.map(csvRow).join("")
}

/** Cells as a line of a table, with its end. */
export const csvRow = (cells: readonly string[]): string => `${cells.map(cell).join(",")}\r\n`

/** Six digits after the point are plenty for what is no exact time. */
export function rounded(number: number): string {
  return String(Number(number.toFixed(6)))
}

/**
 * Quoted where RFC 4180 asks for it. A spreadsheet takes a cell that begins with "=", "+", "-", "@", a tab or a line end for a
 * formula, and names come from files of strangers: such a cell gets an apostrophe in front.
 */
function cell(text: string): string {
  const safe = /^[=+\-@\t\r\n]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}
