/** What commands print alike: lines as wide as the terminal, the heading of a piece, what was odd in its file. */
import pc from "picocolors"
import type { Input } from "./input.js"
import { paragraph } from "./layout.js"
import { showProblem } from "./messages.js"
import { plain, type Shell } from "./shell.js"

/** How tables are laid out. */
export interface TableOptions {
  /** Width in characters; undefined: no limit. */
  readonly columns: number | undefined
  readonly bold: (text: string) => string
  readonly dim: (text: string) => string
}

export class Printer {
  readonly table: TableOptions

  constructor(private readonly shell: Shell) {
    const { bold, dim } = pc.createColors(shell.colour)
    this.table = { columns: shell.columns, bold, dim }
  }

  /** A paragraph, each of its lines broken to the width. */
  say(text: string, style = (line: string) => line): void {
    for (const line of paragraph(text, this.shell.columns)) this.shell.out(style(line))
  }

  /** Lines that have their width already. */
  lines(lines: readonly string[]): void {
    for (const line of lines) this.shell.out(line)
  }

  /** The title, and the file's name under it; for a piece without a title the file's name. */
  heading({ page, file }: Input): void {
    const title = plain(page.title)
    this.say(title || plain(file), this.table.bold)
    if (title) this.say(plain(file), this.table.dim)
  }

  problems({ problems, file }: Input): void {
    for (const problem of problems) this.say(showProblem(problem, file))
  }
}

/** Data for another program, laid out so that people can look at it too. */
export function printJson(object: unknown, shell: Shell): void {
  shell.out(JSON.stringify(object, undefined, 2))
}
