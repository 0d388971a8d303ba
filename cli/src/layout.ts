/** Text in columns, on wide terminals, narrow ones and none. */

/** Rows of cells, the last column free: it takes what is left of the width and breaks between words. */
export function columns(rows: readonly (readonly string[])[], width: number | undefined): string[] {
  const count = Math.max(0, ...rows.map(row => row.length))
  const widths = Array.from({ length: Math.max(0, count - 1) }, (_, at) =>
    Math.max(...rows.map(row => wide(row[at] ?? ""))),
  )
  const indent = widths.reduce((total, one) => total + one + 2, 0)
  const left = width === undefined ? undefined : width - indent
  // Too narrow for a column of its own: the last cell goes below, indented a little.
  const below = width !== undefined && width - indent < 24
  return rows.flatMap(row => {
    const head = widths.map((one, at) => pad(row[at] ?? "", one)).join("  ")
    const last = row[count - 1] ?? ""
    if (below) return underEachOther(row, width)
    const lines = wrap(last, left)
    return lines.map((line, at) => `${at === 0 ? head : " ".repeat(Math.max(0, indent - 2))}  ${line}`.trimEnd())
  })
}

function underEachOther(row: readonly string[], width: number): string[] {
  const cells = row.slice(0, -1).filter(cell => cell.trim() !== "")
  return [...wrap(cells.join("  "), width), ...paragraph(`    ${row.at(-1) ?? ""}`.trimEnd(), width)].filter(Boolean)
}

/** Lines of text, each broken to the width; what a line is indented by, its continuations are too. */
export function paragraph(text: string, width: number | undefined): string[] {
  return text.split("\n").flatMap(line => {
    const indent = /^ */.exec(line)?.[0] ?? ""
    const room = width === undefined ? undefined : Math.max(1, width - indent.length)
    return wrap(line.slice(indent.length), room).map(part => indent + part)
  })
}

/** Breaks between words; a word longer than the width is cut into pieces. */
export function wrap(text: string, width: number | undefined): string[] {
  if (width === undefined || wide(text) <= width) return [text]
  const lines: string[] = []
  let line = ""
  for (const word of text.split(" ").flatMap(one => pieces(one, Math.max(1, width)))) {
    if (line === "") line = word
    else if (wide(line) + 1 + wide(word) <= width) line += ` ${word}`
    else {
      lines.push(line)
      line = word
    }
  }
  return [...lines, line]
}

function pieces(word: string, width: number): string[] {
  const signs = [...word]
  return Array.from({ length: Math.max(1, Math.ceil(signs.length / width)) }, (_, at) =>
    signs.slice(at * width, (at + 1) * width).join(""),
  )
}

const wide = (text: string) => [...text].length
const pad = (text: string, width: number) => text + " ".repeat(Math.max(0, width - wide(text)))
