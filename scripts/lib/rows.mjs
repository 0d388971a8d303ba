// Numbers in columns, as the measuring scripts print them.

/** "99.41": so many of the whole, in per cent; "–" of nothing. */
export function share(part, whole, digits = 2) {
  return whole === 0 ? "–" : ((100 * part) / whole).toFixed(digits)
}

/** A name, then cells set to the right of columns of their widths. */
export function row(name, width, cells) {
  return name.padEnd(width) + cells.map(([text, columns]) => String(text).padStart(columns)).join("")
}
